import { first_fields, kid_id, litter_now, next_n, written_from } from "../../core/barn/kids.ts";
import { DAY_MS } from "../../core/base/days.ts";
import { FIRST_DAYS_D } from "../../core/tables/numbers.ts";
import { writeRecord } from "../forms/write.ts";
import { pushing } from "./pushing.svelte.ts";
import { day } from "../model/day.svelte.ts";
import { nameOf } from "../model/herd.ts";
import { FIRST_LIGHT_H, slotAt } from "../model/hours.ts";
import { record, together } from "../model/record.ts";
import type { Data, Doe, When } from "../model/shapes.ts";
import { addDays } from "../words/format.ts";
import { t } from "../words/text.ts";

/** Until first light it is still the night of the day before. */
const nightOn = () => (day.hour < FIRST_LIGHT_H ? addDays(day.today, -1) : day.today);
export const tonight = (happened = Date.now()): When => ({ on: nightOn(), slot: slotAt(day.hour), happened });

export const litterOf = (doe: Doe) => litter_now(day.view, doe, day.now);

/** A kid's own lines, of the one that goes by that number among these kids. */
export function tellOf(doe: Doe, n: number, f: Data): void {
  const held = litterOf(doe).find((kid) => kid.f["n"] === n);
  const id = held?.id ?? kid_id(doe, n, nightOn());
  const first: Data = held ? {} : { dam: doe.id, n, born_on: nightOn() };
  writeRecord("kid", id, { ...first, ...f }, held ?? day.view.kids[id], tonight());
}

/** What was seen of her in labour: signs, so that every phone counts from the same minute; and this phone's watch. */
export function labour(doe: Doe, what: string): void {
  if (what === "kid_out") return kidOut(doe);
  if (what === "straining" && (!pushing.at || (pushing.kid && pushing.doe === doe.id))) pushing.start(doe.id);
  const [seen, absent] = what === "weaker" ? [[], ["straining"]] : [[what], []];
  together(`${nameOf(doe)}: ${t(`off.labour.${what}`)}`, () => record("signs", doe.id, { seen, absent }, tonight()));
}

/** A kid is out: the sign every phone counts from, and the record it has from then on. */
export function kidOut(doe: Doe, at_ms = Date.now()): void {
  if (pushing.doe === doe.id) pushing.start(doe.id, true);
  together(`${nameOf(doe)}: ${t("off.labour.kid_out")}`, () => {
    record("signs", doe.id, { seen: ["kid_out"], absent: [] }, tonight(at_ms));
    cameNow(doe, at_ms);
  });
}

/** The record of a kid whose coming is being written down. */
export function cameNow(doe: Doe, at_ms: number): void {
  const n = next_n(litterOf(doe));
  if (!n) return;
  const id = kid_id(doe, n, nightOn());
  writeRecord("kid", id, first_fields(doe, n, nightOn(), at_ms), day.view.kids[id], tonight(at_ms));
}

/** All are out: the kidding as its lines have it, put right where it was written down with fewer. */
export function littered(doe: Doe): void {
  const litter = litterOf(doe);
  const { born, alive, last_ms } = written_from(litter);
  const data = { born, alive, timed: true };
  const on = String(litter.at(-1)?.f["born_on"]);
  const written = writtenOf(doe);
  if (pushing.doe === doe.id) pushing.stop();
  together(`${nameOf(doe)}: ${t("r.kidded", { born, alive })}`, () => {
    if (written) record("correct", doe.id, { of: written.ev, data });
    else record("kidded", doe.id, data, { on, slot: slotAt(day.hour), happened: last_ms });
  });
}

/** The kidding of these days, where somebody has written it down. */
export function writtenOf(doe: Doe): Doe["kidded"] {
  const { kidded } = doe;
  return kidded && day.now - kidded.at < FIRST_DAYS_D * DAY_MS ? kidded : null;
}
