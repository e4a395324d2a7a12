import type { Fault } from "./checks.ts";

/** What is wrong with an entry, and with which of its fields. */
export interface Problem extends Omit<Fault, "code"> {
  field: string;
  code: Fault["code"] | "missing" | "unknown_field" | "order" | "together" | "not_yours";
}

/** Thrown at the form, before anything is recorded. */
export class BadEvent extends Error {
  readonly problem: Problem;

  constructor(problem: Problem) {
    super(`${problem.field}: ${problem.code}`);
    this.problem = problem;
  }
}
