// A course of care with the generated types: a sore low back until all is as before, its red flag, and two questions in one batch.
import createClient from "openapi-fetch";
import type {
  Adjustments, AdjustmentsAnswer, BatchAnswer, Complaint, Lifter, LoadForRepsItem, Mass, paths, Prescription, SessionDone, SessionReviewAnswer,
  SourceId,
} from "./api.js";

// JSON in its forms, data and problems alike; a picture or a table would be a text.
const client = createClient<paths, `application/${string}`>({ baseUrl: process.argv[2] ?? "" });

function kilograms(value: number): Mass {
  return { value, unit: "kg" };
}

const lifter: Lifter = { body_mass: kilograms(64), stature: { value: 168, unit: "cm" } };
const squat: Prescription = {
  exercise: "front_squat",
  sets: 4,
  reps: { low: 5, high: 6 },
  load: kilograms(62.5),
  reps_in_reserve: 2,
};

async function asked(complaint: Complaint): Promise<AdjustmentsAnswer> {
  const body: Adjustments = {
    lifter,
    prescription: squat,
    complaint,
    aim: "strength",
  };
  const { data, error } = await client.POST("/v1/adjustments", { body });
  if (error) throw new Error(error.detail);
  return data;
}

// Two good sessions of each prescription but one: the pain of the fifth session leads a step back.
function pain(session: number): number {
  return session === 5 ? 6 : 1;
}

async function reviewed(prescription: Prescription, sessions: SessionDone[]): Promise<SessionReviewAnswer> {
  const { data, error } = await client.POST("/v1/session-review", {
    body: { prescription, sessions, original: squat, lifter, aim: "strength", region: "low_back", usual_pain: 1 },
  });
  if (error) throw new Error(error.detail);
  return data;
}

// From an option to the original, each prescription sent on as it was answered; what the reviews decided.
async function courseOfCare(option: Prescription): Promise<string[]> {
  const decisions: string[] = [];
  let now: Prescription | null = option;
  let sessions: SessionDone[] = [];
  while (now !== null && decisions.at(-1) !== "back_to_original") {
    const done: number[] = Array<number>(now.sets).fill(now.reps?.high ?? 1);
    sessions.push({ pain_in_session: pain(decisions.length + 1), pain_next_morning: 1, reps_done: done });
    const review: SessionReviewAnswer = await reviewed(now, sessions.slice(-28));
    decisions.push(review.decision);
    if (review.changed.length > 0) sessions = sessions.map((one) => ({ ...one, earlier_prescription: true }));
    now = review.next;
  }
  return decisions;
}

function row(number: number, reps: number): LoadForRepsItem {
  const set = { load: kilograms(100), reps: 5, reps_in_reserve: 1 };
  return { operation: "load-for-reps", id: `row ${number}`, body: { set, target: { reps } } };
}

function outcome(result: BatchAnswer["results"][number]): string {
  switch (result.result) {
    case "load-for-reps":
      return result.answer.load.value > 0 ? "answered" : "wrong";
    case "problem":
      return `refused, ${result.problem.status}`;
    default:
      return "not asked";
  }
}

const found = await asked({ region: "low_back", pain_in_session: 4 });
const best = found.options[0];
if (found.decision !== "adjust" || best === undefined) throw new Error(found.decision);
console.log(`adjust: ${best.prescription.exercise}, ${best.prescription.load.value} ${best.prescription.load.unit}`);

const plan = await client.POST("/v1/return-plan", {
  body: { lifter, original: squat, adjusted: best.prescription, region: "low_back" },
});
console.log(`ahead: ${plan.data?.weeks?.low} weeks`);
const decisions = await courseOfCare(best.prescription);
console.log(`course: ${[...new Set(decisions)].sort().join(", ")}, ends ${decisions.at(-1)}`);

const source = await client.GET("/v1/sources/{id}", { params: { path: { id: found.basis.sources[0] as SourceId } } });
if (source.data === undefined) throw new Error(source.error.detail);
console.log(`known from: ${source.data.known}`);

const flagged = await asked({ region: "low_back", pain_in_session: 1, signs: ["bilateral_leg_symptoms"] });
if (flagged.decision !== "refer" || !flagged.referral) throw new Error(flagged.decision);
console.log(`refer: ${flagged.referral.urgency}`);

const batch = await client.POST("/v1/batch", { body: { requests: [row(1, 8), row(2, 99)] } });
for (const result of batch.data?.results ?? []) console.log(`${result.id}: ${outcome(result)}`);
