// A consultation with what orval makes: a function for each operation, its answers told apart by their status.
import { computeAdjustments, computeSessionReview } from "./api.js";
import type { Adjustments, AdjustmentsAnswer, Complaint, Lifter, Prescription, Problem } from "./api.js";

const lifter: Lifter = { body_mass: { value: 64, unit: "kg" }, stature: { value: 168, unit: "cm" } };
const squat: Prescription = { exercise: "front_squat", sets: 4, reps: { low: 5, high: 6 }, load: { value: 62.5, unit: "kg" } };

function question(complaint: Complaint, prescription: Prescription = squat): Adjustments {
  return { lifter, prescription, complaint, aim: "strength" };
}

async function asked(complaint: Complaint): Promise<AdjustmentsAnswer> {
  const answer = await computeAdjustments(question(complaint));
  if (answer.status !== 200 || typeof answer.data === "string" || answer.data instanceof Blob) throw new Error(`${answer.status}`);
  return answer.data;
}

const answer = await asked({ region: "low_back", pain_in_session: 4 });
const best = answer.options[0]?.prescription;
if (!best) throw new Error(answer.decision);
const done = { pain_in_session: 1, pain_next_morning: 1, reps_done: Array<number>(best.sets).fill(best.reps?.high ?? 1) };
const review = await computeSessionReview({
  prescription: best as Prescription, original: squat, lifter, aim: "strength", region: "low_back", usual_pain: 1, sessions: [done, done],
});
if (review.status !== 200 || typeof review.data === "string") throw new Error(`${review.status}`);
const flagged = await asked({ region: "low_back", pain_in_session: 1, signs: ["bilateral_leg_symptoms"] });
const refused = await computeAdjustments(question({ region: "low_back", pain_in_session: 4 }, { ...squat, sets: 0 }));
if (refused.status !== 422) throw new Error(`${refused.status}`);
const problem: Problem = refused.data;

console.log(JSON.stringify({
  decision: answer.decision, exercise: best.exercise, load: best.load.value,
  review: review.data.decision, next: review.data.next?.load.value ?? null,
  urgency: flagged.referral?.urgency, refused: problem.errors?.[0]?.pointer,
}));
