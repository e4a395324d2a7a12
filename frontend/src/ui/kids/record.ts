import { checkup_2 } from "../../core/events/upcast.ts";
import type { Kidding } from "../../core/outlook/kidding/kidding.ts";
import { is_dead, type Line } from "../../core/outlook/kidding/litter.ts";
import { writeRecord } from "../forms/write.ts";
import { day } from "../model/day.svelte.ts";
import { nameOf } from "../model/herd.ts";
import { record, together } from "../model/record.ts";
import type { Data, Doe } from "../model/shapes.ts";
import { grainWaits, holdGrain } from "../off_feed/waits.ts";
import { t } from "../words/text.ts";
import { tellOf, tonight, writtenOf, type Which } from "../emergency/labour.ts";

const BLANK = { mouth: "", rectal_c_x10: 0, swallows: "", fed: "", up: "", belly: "", dead: false };
const WELL = { mouth: "warm", swallows: "yes", fed: "sucked", up: "yes", belly: "full" };
const DAM = { drank: "", ate: "", halves: "", discharge: "", bright: "" };
/** Hay left holds her grain as it is, as any left meal does. */
const LEFT = ["no", "some"];
export const DAM_WELL = { drank: "yes", ate: "yes", halves: "both", discharge: "normal", bright: "yes" };

const called = (doe: Doe, { n }: Which, said: string) => `${nameOf(doe)}, ${t("kids.kid", { n })}: ${said}`;

/** What was seen of one kid. One tap, one entry: what nobody looked at stays open. */
export function seen(doe: Doe, kid: Which, what: Data, said: string): void {
  together(called(doe, kid, said), () => look(doe, kid, what));
}

function look(doe: Doe, { id, written }: Which, what: Data): void {
  record("kid_look", doe.id, { kid: written, ...(id ? { of: id } : {}), ...BLANK, ...what }, tonight());
}

/** A kid that is warm, has sucked and stands is one tap. */
export const well = (doe: Doe, kid: Which) => seen(doe, kid, WELL, t("kids.well"));

/** What stays with it: sex, help, weight. */
export function about(doe: Doe, kid: Which, f: Data, said: string): void {
  together(called(doe, kid, said), () => tellOf(doe, kid, f));
}

/** It did not live: its line says so, and nobody is sent to look at it. */
export function lost(doe: Doe, kid: Which): void {
  together(called(doe, kid, t("kids.dead")), () => {
    look(doe, kid, { dead: true });
    tellOf(doe, kid, { came: "dead" });
  });
}

export function afterbirth(doe: Doe, what: string): void {
  together(`${nameOf(doe)}: ${t(`afterbirth.${what}`)}`, () =>
    record("afterbirth", doe.id, { seen: what }, tonight()),
  );
}

/** What was seen of the dam. */
export function seenDam(doe: Doe, what: Data, said: string): void {
  together(`${nameOf(doe)}: ${said}`, () => {
    const { id } = record("dam_look", doe.id, { ...DAM, ...what }, tonight());
    if (LEFT.includes(String(what["ate"]))) holdGrain(doe, id);
  });
}

export function damTemperature(doe: Doe, temp_c_x10: number, said: string): void {
  const data = checkup_2({ temp_c_x10, bhb_x10: 0, urine: "" });
  together(`${nameOf(doe)}: ${said}`, () => {
    const { id } = record("checkup", doe.id, data, tonight());
    if (grainWaits(data)) holdGrain(doe, id);
  });
}

/** What two phones wrote down apart is one kid, or two: each of them stands until somebody says so. */
export function oneKid(doe: Doe, asked: Line, other: Line, kidding: Kidding): void {
  const written = writtenOf(doe);
  together(`${nameOf(doe)}: ${t("kids.twice.one")}`, () => {
    writeRecord("kid", asked.id, { same: other.id }, day.view.kids[asked.id]);
    if (!written || written.born < kidding.litter.length) return;
    const alive = Math.max(0, written.alive - (is_dead(asked) ? 0 : 1));
    record("correct", doe.id, { of: written.ev, data: { born: written.born - 1, alive, timed: written.timed } });
  });
}

export function twoKids(doe: Doe, asked: Line): void {
  together(`${nameOf(doe)}: ${t("kids.twice.two")}`, () =>
    writeRecord("kid", asked.id, { same: asked.id }, day.view.kids[asked.id]),
  );
}
