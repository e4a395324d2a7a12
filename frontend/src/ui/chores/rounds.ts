import { LAST_LOOK } from "../../core/chores.ts";
import { model } from "../model.svelte.ts";

type What = (typeof LAST_LOOK)[number] | "heads";

const round = (subject: string, what: What, count = 0, of = 0) => model.record("round", subject, { what, count, of });

export function countAll(of: number): void {
  round(model.farmId, "heads", of, of);
}

/** She was not there: said of her, and of the farm, in one tap. */
export function notSeen(doe: string, of: number, missing: number): void {
  model.together(() => {
    round(doe, "heads", 0, 1);
    round(model.farmId, "heads", of - missing - 1, of);
  });
}

export function found(doe: string): void {
  round(doe, "heads", 1, 1);
}

export function looked(...whats: What[]): void {
  model.together(() => whats.forEach((what) => round(model.farmId, what)));
}
