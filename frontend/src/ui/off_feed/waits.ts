import { held_until } from "../../core/barn/chores.ts";
import { FRESH_FEVER_X10 } from "../../core/tables/numbers.ts";
import { checkup_2 } from "../../core/events/upcast.ts";
import { nameOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { record, together } from "../model/record.ts";
import type { Data, Doe } from "../model/shapes.ts";
import { t } from "../words/text.ts";

/** Soft dung or a fever holds her grain as it is, as a left meal does: later steps move on by as many days. */
export function grainWaits(seen: Data): boolean {
  return seen["dung"] === "loose" || Number(seen["temp_c_x10"] ?? 0) >= FRESH_FEVER_X10;
}

/** Written beside the reading it goes by. */
export function holdGrain(doe: Doe, of: string): void {
  const until = held_until("left_some", "", day.slotDay);
  const { freeze } = doe;
  if (freeze && freeze.until >= until) return;
  const out = Boolean(freeze?.grain_out && freeze.until >= day.slotDay);
  record("freeze", doe.id, { until_on: until, grain_out: out, of });
}

/** Seen at the feeder, with nothing left: one tap. */
export function softDung(doe: Doe): void {
  const seen = checkup_2({ temp_c_x10: 0, bhb_x10: 0, urine: "", dung: "loose" });
  together(`${nameOf(doe)}: ${t("held.why.dung")}`, () => holdGrain(doe, record("checkup", doe.id, seen).id));
}
