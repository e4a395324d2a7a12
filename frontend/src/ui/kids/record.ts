import { nameOf } from "../model/herd.ts";
import { record, together } from "../model/record.ts";
import type { Data, Doe } from "../model/shapes.ts";
import { t } from "../words/text.ts";

const BLANK = { mouth: "", rectal_c_x10: 0, swallows: "", fed: "", up: "", belly: "", dead: false };
const WELL = { mouth: "warm", swallows: "yes", fed: "sucked", up: "yes", belly: "full" };

/** What was seen of one kid. One tap, one entry: what nobody looked at stays open. */
export function seen(doe: Doe, kid: number, what: Data, said: string): void {
  together(`${nameOf(doe)}, ${t("kids.kid", { n: kid })}: ${said}`, () =>
    record("kid_look", doe.id, { kid, ...BLANK, ...what }),
  );
}

/** A kid that is warm, has sucked and stands is one tap. */
export const well = (doe: Doe, kid: number) => seen(doe, kid, WELL, t("kids.well"));

export function afterbirth(doe: Doe, what: string): void {
  together(`${nameOf(doe)}: ${t(`afterbirth.${what}`)}`, () => record("afterbirth", doe.id, { seen: what }));
}
