import { HOUR_MS } from "../../base/days.ts";
import type { Doe } from "../../state/view.ts";
import type { Kidding } from "./kidding.ts";
import type { Said, Turn } from "../ground/shapes.ts";
import {
  CALENDAR_FRESH_D, FIRST_DAYS_D, KIDDING_SPAN_H, KIDDING_UNSAID_H, PLACENTA_ASK_H, PLACENTA_MOST_H,
} from "../../tables/numbers.ts";
import type { Rest } from "../../tables/off_feed.ts";

/** Her afterbirth, from the last kid on: asked after at two hours, the vet's at twelve, at once when she is ill. */
export function placenta_word(doe: Doe, kidding: Kidding, ill: boolean): Said | null {
  const told = afterbirth_of(doe, kidding);
  const why = told?.[2] ?? "untold";
  if (why === "passed" || kidding.days > (why === "hanging" ? CALENDAR_FRESH_D : FIRST_DAYS_D)) return null;
  const late_ms = vet_ms(kidding, why);
  const args = { why, since_ms: kidding.last_ms, timed: kidding.timed, late_ms };
  // once the vet knows, nothing but her coming to harm is louder; while she still kids it has not had its time
  if (ill) {
    const due_ms = kidding.last_ms + PLACENTA_ASK_H * HOUR_MS;
    const turns: Turn[] = [[due_ms, "placenta_vet"]];
    const rests: Rest[] = ["afterbirth_ill"];
    return { code: "placenta_wait", args: { ...args, why: "ill", turns, recheck_ms: due_ms, rests } };
  }
  if (why === "vet_told") return { code: "placenta_wait", args: { ...args, rests: ["afterbirth_twelve"] } };
  const turns = turns_of(kidding, told?.[1] ?? 0, why);
  return { code: "placenta_wait", args: { ...args, turns, recheck_ms: turns[0]![0], rests: rests_of(kidding, why) } };
}

/** What was last said of the one of this kidding. */
export function afterbirth_of({ afterbirths }: Doe, { first_ms }: Kidding): Doe["afterbirths"][number] | undefined {
  const since = first_ms - KIDDING_SPAN_H * HOUR_MS;
  return afterbirths.findLast(([, happened]) => happened >= since);
}

/**
 * With no hour said, whoever has looked and not seen it goes by the earliest; nobody is sent for unasked before. One
 * that hangs is there: nobody asks at two hours where it is, and twelve are given.
 */
function turns_of(kidding: Kidding, told_ms: number, why: string): Turn[] {
  const asked_ms = kidding.last_ms + PLACENTA_ASK_H * HOUR_MS;
  const vet: Turn = [vet_ms(kidding, why), "placenta_vet"];
  return told_ms >= asked_ms || why === "hanging" ? [vet] : [[asked_ms, "placenta_look"], vet];
}

function vet_ms({ last_ms, timed }: Kidding, why: string): number {
  return last_ms + (PLACENTA_MOST_H + (why === "untold" && !timed ? KIDDING_UNSAID_H : 0)) * HOUR_MS;
}

function rests_of({ timed }: Kidding, why: string): Rest[] {
  const eaten: Rest[] = why === "not_seen" ? ["afterbirth_eaten"] : [];
  return ["afterbirth_twelve", "afterbirth_two", ...eaten, ...(timed ? [] : (["kid_hour_unsaid"] as const))];
}
