import { first_fields, kid_id, litter_now, next_n, night_of } from "../../core/barn/kids.ts";
import { DAY_MS } from "../../core/base/days.ts";
import type { Kidding } from "../../core/outlook/kidding/kidding.ts";
import { born_ms } from "../../core/outlook/kidding/litter.ts";
import { FIRST_DAYS_D } from "../../core/tables/numbers.ts";
import { writeRecord } from "../forms/write.ts";
import { pushing } from "./pushing.svelte.ts";
import { day } from "../model/day.svelte.ts";
import { nameOf } from "../model/herd.ts";
import { FIRST_LIGHT_H, slotAt } from "../model/hours.ts";
import { record, together } from "../model/record.ts";
import { session } from "../model/session.svelte.ts";
import type { Data, Doe, When } from "../model/shapes.ts";
import { addDays } from "../words/format.ts";
import { t } from "../words/text.ts";

/** Until first light it is still the night of the day before. */
const nightOn = () => (day.hour < FIRST_LIGHT_H ? addDays(day.today, -1) : day.today);
export const tonight = (happened = Date.now()): When => ({ on: nightOn(), slot: slotAt(day.hour), happened });

export const litterOf = (doe: Doe) => litter_now(day.view, doe, day.now);

/** Which kid is meant: its record, "" where it has none, and the number it is called by and was written with. */
export interface Which {
  n: number;
  id: string;
  written: number;
}

/** A kid's own lines; the record of one that has none goes by its number among these kids. */
export function tellOf(doe: Doe, { id, written }: Which, f: Data): void {
  const on = night_of(litterOf(doe), nightOn());
  const own = id || kid_id(doe, written, on);
  const first: Data = id ? {} : { dam: doe.id, n: written, born_on: on };
  writeRecord("kid", own, { ...first, ...f }, day.view.kids[own], tonight());
}

/**
 * What was seen of her in labour: signs, so that every phone counts from the same minute; and this phone's watch.
 * `at_ms`: since when, where somebody saw it before the phone was at hand.
 */
export function labour(doe: Doe, what: string, at_ms = Date.now()): void {
  if (what === "kid_out") return kidOut(doe, at_ms);
  if (what === "straining" && startsWatch(doe.id, at_ms)) pushing.start(doe.id, false, at_ms);
  const [seen, absent] = what === "weaker" ? [[], ["straining"]] : [[what], []];
  const said = `${nameOf(doe)}: ${t(`off.labour.${what}`)}`;
  together(said, () => record("signs", doe.id, { seen, absent }, tonight(at_ms)));
}

/** Hers runs on from the first push; said again with an earlier minute it is set back to it. */
function startsWatch(id: string, at_ms: number): boolean {
  return !pushing.at || (pushing.doe === id && (pushing.kid ? at_ms > pushing.at : at_ms < pushing.at));
}

/** A kid is out: the sign every phone counts from, and the record it has from then on. */
export function kidOut(doe: Doe, at_ms = Date.now()): void {
  if (pushing.doe === doe.id) pushing.start(doe.id, true, at_ms);
  together(`${nameOf(doe)}: ${t("off.labour.kid_out")}`, () => {
    record("signs", doe.id, { seen: ["kid_out"], absent: [] }, tonight(at_ms));
    cameNow(doe, at_ms);
  });
}

/** The record of a kid whose coming is being written down: an id of its own, since two phones apart see two kids. */
export function cameNow(doe: Doe, at_ms: number): void {
  const litter = litterOf(doe);
  const n = next_n(litter, writtenOf(doe)?.born);
  if (!n) return;
  const fields = first_fields(doe, n, night_of(litter, nightOn()), at_ms);
  writeRecord("kid", session.farm!.newId(), fields, undefined, tonight(at_ms));
}

/** All are out: the kidding as its lines have it, put right where it was written down with fewer. */
export function littered(doe: Doe, { born, alive, last_ms }: Kidding): void {
  const litter = litterOf(doe);
  const data = { born, alive, timed: true };
  const written = writtenOf(doe);
  if (pushing.doe === doe.id) pushing.stop();
  together(`${nameOf(doe)}: ${t("r.kidded", { born, alive })}`, () => {
    if (written) return record("correct", doe.id, { of: written.ev, data });
    const at_ms = Math.max(last_ms, ...litter.map(born_ms));
    return record("kidded", doe.id, data, { on: night_of(litter, nightOn()), slot: slotAt(day.hour), happened: at_ms });
  });
}

/** The kidding of these days, where somebody has written it down. */
export function writtenOf(doe: Doe): Doe["kidded"] {
  const { kidded } = doe;
  return kidded && day.now - kidded.at < FIRST_DAYS_D * DAY_MS ? kidded : null;
}
