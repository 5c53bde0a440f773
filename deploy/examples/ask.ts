// Asks the service with nothing but fetch (Node 18 or newer, a browser). course.ts beside it is a course of care with it.
// Larger programs take the package of deploy/clients; these few types are written by hand to show what goes over.

export interface Quantity {
  value: number;
  unit: string;
}

export interface Estimate {
  value: number;
  low: number;
  high: number;
}

/** The rest of it is carried along unseen. */
export interface Prescription {
  sets: number;
  reps: { low: number; high: number };
  load: Quantity;
}

export interface Message {
  code: string;
  text: string;
}

export interface Option {
  rank: number;
  prescription: Prescription;
  words: string;
  demand: Record<string, Estimate>;
}

export interface Adjustments {
  decision: "adjust" | "no_change_needed" | "confirm_first" | "pause_and_review" | "refer";
  why: Message[];
  options: Option[];
}

export interface ReturnPlan {
  weeks: { low: number; high: number };
}

export interface Review {
  decision: string;
  next: Prescription | null;
  changed: string[];
  why: Message[];
}

/** What each operation answers; there are more operations. */
interface Answers {
  adjustments: Adjustments;
  "return-plan": ReturnPlan;
  "session-review": Review;
}

interface Problem {
  detail: string;
  errors?: { pointer?: string; parameter?: string; detail: string; example?: unknown }[];
}

const service = process.env["SERVICE"] ?? "http://127.0.0.1:8000";
const headers = { "content-type": "application/json" }; // and { authorization: "Bearer KEY" } where the service asks for one

export const kg = (value: number): Quantity => ({ value, unit: "kg" });
export const lb = (value: number): Quantity => ({ value, unit: "lb" });

/**
 * The answer of an operation; without a question what is listed at a path, such as signs?region=knee. JSON, or else a text
 * (adjustments?as=markdown). Throws every fault of the question, in the service's own words.
 */
export async function ask<T extends keyof Answers>(operation: T, question: object): Promise<Answers[T]>;
export async function ask(path: string, question?: object): Promise<unknown>;
export async function ask(path: string, question?: object): Promise<unknown> {
  const asked = question ? { method: "POST", headers, body: JSON.stringify(question) } : {};
  const response = await fetch(`${service}/v1/${path}`, asked).catch((error: Error) => {
    throw new Refused(`No service at ${service}: ${error.message}. SERVICE=http://… names another.`);
  });
  const isJson = /json/.test(response.headers.get("content-type") ?? "");
  const answer: unknown = isJson ? await response.json() : await response.text();
  if (response.ok) return answer;
  throw new Refused(isJson ? faults(answer as Problem) : `${response.status} ${response.statusText}`);
}

/** A question without an answer, in the service's own words; a program that it ends shows no calls beside them. */
export class Refused extends Error {
  constructor(message: string) {
    super(message);
    this.stack = `Refused:\n${message}\n    at ${service}`;
  }
}

function faults({ errors, detail }: Problem): string {
  const lines = errors?.map((fault) => {
    const example = "example" in fault ? ` Example: ${JSON.stringify(fault.example)}` : "";
    return `${fault.parameter ?? fault.pointer}: ${fault.detail}${example}`;
  });
  return lines?.join("\n") || detail;
}
