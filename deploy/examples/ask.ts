// Asks for adjusted prescriptions with nothing but fetch (Node 18 or newer, a browser): node ask.js [address].
// Larger programs generate their types from /openapi.json; these few are written by hand to show what goes over.

interface Quantity {
  value: number;
  unit: string;
}

interface Estimate {
  value: number;
  low: number;
  high: number;
}

interface Message {
  code: string;
  text: string;
}

interface Option {
  rank: number;
  why: Message[];
  demand: Record<string, Estimate>;
}

interface Answer {
  decision: "adjust" | "no_change_needed" | "confirm_first" | "refer";
  options: Option[];
}

interface Problem {
  detail: string;
  errors?: { pointer?: string; detail: string }[];
}

const kg = (value: number): Quantity => ({ value, unit: "kg" });

async function ask<T>(service: string, operation: string, question: object): Promise<T> {
  const response = await fetch(`${service}/v1/${operation}`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(question),
  });
  if (!response.ok) {
    const problem = (await response.json()) as Problem;
    const faults = problem.errors?.map((fault) => `${fault.pointer}: ${fault.detail}`) ?? [problem.detail];
    throw new Error(faults.join("\n"));
  }
  return (await response.json()) as T;
}

const answer = await ask<Answer>(process.argv[2] ?? "http://127.0.0.1:8000", "adjustments", {
  lifter: { body_mass: kg(64), stature: { value: 168, unit: "cm" }, sex: "female" },
  prescription: {
    exercise: "front_squat",
    sets: 4,
    reps: { low: 5, high: 6 },
    load: kg(62.5),
    reps_in_reserve: 2,
    days_per_week: 2,
  },
  complaint: { region: "low_back", pain_in_session: 4 },
  aim: "strength",
  constraints: { bar: { bar: kg(15) } },
});

console.log(`decision: ${answer.decision}`);
for (const { rank, why, demand } of answer.options) {
  const lowBack = demand["low_back"];
  console.log(`${rank}. ${why[0]?.text}`);
  console.log(`   low back ${lowBack?.value.toFixed(2)} of now (${lowBack?.low.toFixed(2)} to ${lowBack?.high.toFixed(2)})`);
}
