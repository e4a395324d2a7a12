import { held_until } from "../../core/barn/chores.ts";
import { checkup_2, triage_2 } from "../../core/events/upcast.ts";
import { is_overload } from "../../core/outlook/ill/overload.ts";
import { write } from "../forms/write.ts";
import type { Problem } from "../../core/events/bad_event.ts";
import { nameOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { record, together } from "../model/record.ts";
import { session } from "../model/session.svelte.ts";
import type { Data, Doe } from "../model/shapes.ts";
import { t } from "../words/text.ts";

/** Grain she helped herself to; g is null where nobody knows how much. Her grain is held with the same tap. */
export function gotInto(doe: Doe, data: Data): Problem | null {
  let problem: Problem | null = null;
  const g = data["g"] === null ? t("got_into.unknown") : day.amount(Number(data["g"]));
  together(`${nameOf(doe)}: ${t("rec.got_into")}, ${g}`, () => {
    problem = write("got_into", doe.id, data);
    if (!problem) hold(doe, data["g"] === null ? null : Number(data["g"]));
  });
  return problem;
}

/** None for her where it is the vet's, else none more than she has. */
function hold(doe: Doe, beyond_g: number | null): void {
  const out = is_overload(session.farm!.evaluation(day.today).ctx, doe.id, { what: "much", beyond_g });
  const until = held_until("refused", "", day.slotDay);
  const held = doe.freeze && doe.freeze.until >= day.slotDay ? doe.freeze : null;
  const until_on = held && held.until > until ? held.until : until;
  record("freeze", doe.id, { until_on, grain_out: out || Boolean(held?.grain_out), of: "" });
}

/** A look at a doe that ate too much: what her dung and cud are like. */
export function lookedAt(doe: Doe, what: string, seen: Data): void {
  together(`${nameOf(doe)}: ${t(`too_much.${what}`)}`, () =>
    record("checkup", doe.id, checkup_2({ temp_c_x10: 0, bhb_x10: 0, urine: "", ...seen })),
  );
}

export function vetCalled(doe: Doe): void {
  const blank = { of: "", new_feed: "", water_bad: "", bullied: "" };
  const asked = triage_2({ ...blank, suspect: "overload", result: "vet_called" });
  together(`${nameOf(doe)}: ${t("too_much.called")}`, () => record("triage", doe.id, asked));
}
