import { checkup_2 } from "../../core/events/upcast.ts";
import { nameOf } from "../model/herd.ts";
import { record, together } from "../model/record.ts";
import type { Data, Doe } from "../model/shapes.ts";
import { t } from "../words/text.ts";
import { tellOf, tonight } from "../emergency/labour.ts";

const BLANK = { mouth: "", rectal_c_x10: 0, swallows: "", fed: "", up: "", belly: "", dead: false };
const WELL = { mouth: "warm", swallows: "yes", fed: "sucked", up: "yes", belly: "full" };
const DAM = { drank: "", ate: "", halves: "", discharge: "", bright: "" };
export const DAM_WELL = { drank: "yes", ate: "yes", halves: "both", discharge: "normal", bright: "yes" };

const called = (doe: Doe, kid: number, said: string) => `${nameOf(doe)}, ${t("kids.kid", { n: kid })}: ${said}`;

/** What was seen of one kid. One tap, one entry: what nobody looked at stays open. */
export function seen(doe: Doe, kid: number, what: Data, said: string): void {
  together(called(doe, kid, said), () => record("kid_look", doe.id, { kid, ...BLANK, ...what }, tonight()));
}

/** A kid that is warm, has sucked and stands is one tap. */
export const well = (doe: Doe, kid: number) => seen(doe, kid, WELL, t("kids.well"));

/** What stays with it: sex, help, weight. */
export function about(doe: Doe, kid: number, f: Data, said: string): void {
  together(called(doe, kid, said), () => tellOf(doe, kid, f));
}

/** It did not live: its line says so, and nobody is sent to look at it. */
export function lost(doe: Doe, kid: number): void {
  together(called(doe, kid, t("kids.dead")), () => {
    record("kid_look", doe.id, { kid, ...BLANK, dead: true }, tonight());
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
  together(`${nameOf(doe)}: ${said}`, () => record("dam_look", doe.id, { ...DAM, ...what }, tonight()));
}

export function damTemperature(doe: Doe, temp_c_x10: number, said: string): void {
  const data = checkup_2({ temp_c_x10, bhb_x10: 0, urine: "" });
  together(`${nameOf(doe)}: ${said}`, () => record("checkup", doe.id, data, tonight()));
}
