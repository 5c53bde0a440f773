// A consultation with the generated types: a sore low back, its red flag, and two questions in one batch.
import createClient from "openapi-fetch";
import type { Adjustments, AdjustmentsAnswer, BatchAnswer, Complaint, LoadForRepsItem, Mass, paths, SourceId } from "./api.js";

// JSON in its forms, data and problems alike; a picture or a table would be a text.
const client = createClient<paths, `application/${string}`>({ baseUrl: process.argv[2] ?? "" });

function kilograms(value: number): Mass {
  return { value, unit: "kg" };
}

async function asked(complaint: Complaint): Promise<AdjustmentsAnswer> {
  const body: Adjustments = {
    lifter: { body_mass: kilograms(64), stature: { value: 168, unit: "cm" } },
    prescription: {
      exercise: "front_squat",
      sets: 4,
      reps: { low: 5, high: 6 },
      load: kilograms(62.5),
      reps_in_reserve: 2,
    },
    complaint,
    aim: "strength",
  };
  const { data, error } = await client.POST("/v1/adjustments", { body });
  if (error) throw new Error(error.detail);
  return data;
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

const source = await client.GET("/v1/sources/{id}", { params: { path: { id: found.basis.sources[0] as SourceId } } });
if (source.data === undefined) throw new Error(source.error.detail);
console.log(`known from: ${source.data.known}`);

const flagged = await asked({ region: "low_back", pain_in_session: 1, signs: ["bilateral_leg_symptoms"] });
if (flagged.decision !== "refer" || flagged.referral === null) throw new Error(flagged.decision);
console.log(`refer: ${flagged.referral.urgency}`);

const batch = await client.POST("/v1/batch", { body: { requests: [row(1, 8), row(2, 99)] } });
for (const result of batch.data?.results ?? []) console.log(`${result.id}: ${outcome(result)}`);
