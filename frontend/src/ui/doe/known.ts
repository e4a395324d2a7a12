import type { Known } from "../../core/barn/evidence.ts";
import { calendar, span } from "../words/format.ts";
import { t } from "../words/text.ts";

/** One thing her dates go by, in a line. */
export function knownSaid({ what, on, to, buck, check, still }: Known, today: string): string {
  if (!check) {
    const said = t(still ? "dates.pen.still" : `dates.${what}`, { on: calendar(on, today), span: span(on, to, today) });
    return buck ? `${said}, ${buck}` : said;
  }
  const parts = [
    t(`o.result.${check.result}`), check.aged_d && t("dates.aged", { n: check.aged_d }),
    check.kids && t("dates.kids", { n: check.kids }),
  ];
  return `${t(`dates.check.${check.how}`, { on: calendar(on, today) })}: ${parts.filter(Boolean).join(", ")}`;
}
