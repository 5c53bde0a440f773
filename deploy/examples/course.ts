// A course of care, asked with ask.ts beside it: npx --yes tsx course.ts, or node course.ts from Node 22.18 on.

import { ask, kg, type Prescription } from "./ask.ts";

const lifter = { body_mass: kg(64), stature: { value: 168, unit: "cm" }, sex: "female" };
const squat = {
  exercise: "front_squat",
  sets: 4,
  reps: { low: 5, high: 6 },
  load: kg(62.5),
  reps_in_reserve: 2,
  days_per_week: 2,
};
const gym = { bar: { bar: kg(15) } };
// Pain in the session and the next morning; after the last the sessions go on as it went.
const came: [number, number][] = [[3, 1.5], [2, 1], [1.5, 1], [2, 1], [1.5, 1], [4, 3.5], [1.5, 1]];

const answer = await ask("adjustments", {
  lifter,
  prescription: squat,
  complaint: { region: "low_back", pain_in_session: 4, usual_pain: 1 },
  aim: "strength",
  constraints: { gym },
});
console.log(`decision: ${answer.decision}`);
for (const { rank, words, demand } of answer.options) {
  console.log(`${rank}. ${words}`);
  const lowBack = demand["low_back"]; // only a direction is known of some
  if (lowBack) {
    const { value, low, high } = lowBack;
    console.log(`   low back ${value.toFixed(2)} of now (${low.toFixed(2)} to ${high.toFixed(2)})`);
  }
}

// The way ahead, then a review after each session, whose next prescription is sent back as it came.
let now = answer.options[0]?.prescription ?? null;
const known = { lifter, original: squat, region: "low_back", gym };
if (now) {
  const { weeks } = await ask("return-plan", { ...known, adjusted: now });
  console.log(`Back in ${weeks.low} to ${weeks.high} weeks`);
}
let sessions: object[] = [];
let previous: Prescription | null = null;
let decision = "";
for (let number = 1; now && decision !== "back_to_original" && number <= 50; number++) {
  const [pain, morning] = came[Math.min(number, came.length) - 1] ?? [0, 0];
  const done = Array<number>(now.sets).fill(now.reps.high);
  sessions.push({ pain_in_session: pain, pain_next_morning: morning, reps_done: done });
  const review = await ask("session-review", {
    ...known, prescription: now, previous, sessions: sessions.slice(-28), aim: "strength", usual_pain: 1,
  });
  decision = review.decision;
  console.log(`${number}. pain ${pain}, ${morning} next morning: ${decision}`);
  if (review.changed.length > 0) {
    sessions = sessions.map((one) => ({ ...one, earlier_prescription: true }));
    previous = decision === "progress" ? now : null;
  }
  now = review.next;
}
