// A consultation with the package of the TypeScript client, which @hey-api/openapi-ts makes.
import { computeAdjustments, computeSessionReview } from "program-adjustment-client";
import { client } from "program-adjustment-client/client";
import type { Adjustments, Complaint, Lifter, Prescription } from "program-adjustment-client";

client.setConfig({ baseUrl: process.argv[2] ?? "" });
const lifter: Lifter = { body_mass: { value: 64, unit: "kg" }, stature: { value: 168, unit: "cm" } };
const squat: Prescription = { exercise: "front_squat", sets: 4, reps: { low: 5, high: 6 }, load: { value: 62.5, unit: "kg" } };

function question(complaint: Complaint, prescription: Prescription = squat): Adjustments {
  return { lifter, prescription, complaint, aim: "strength" };
}

async function asked(complaint: Complaint) {
  const { data, error } = await computeAdjustments({ body: question(complaint) });
  if (!data || data instanceof Blob) throw new Error(error?.detail);
  return data;
}

const answer = await asked({ region: "low_back", pain_in_session: 4 });
const best = answer.options[0]?.prescription;
if (!best) throw new Error(answer.decision);
const done = { pain_in_session: 1, pain_next_morning: 1, reps_done: Array<number>(best.sets).fill(best.reps?.high ?? 1) };
const review = await computeSessionReview({
  body: { prescription: best, original: squat, lifter, aim: "strength", region: "low_back", usual_pain: 1, sessions: [done, done] },
});
if (!review.data || review.data instanceof Blob) throw new Error(review.error?.detail);
const flagged = await asked({ region: "low_back", pain_in_session: 1, signs: ["bilateral_leg_symptoms"] });
const refused = await computeAdjustments({ body: question({ region: "low_back", pain_in_session: 4 }, { ...squat, sets: 0 }) });

console.log(JSON.stringify({
  decision: answer.decision, exercise: best.exercise, load: best.load.value,
  review: review.data.decision, next: review.data.next?.load.value ?? null,
  urgency: flagged.referral?.urgency, refused: refused.error?.errors?.[0]?.pointer,
}));
