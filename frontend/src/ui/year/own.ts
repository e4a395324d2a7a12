import type { Field, Values } from "../forms/fields.ts";
import { day } from "../model/day.svelte.ts";
import type { Data } from "../model/shapes.ts";
import { calendar } from "../words/format.ts";
import { t } from "../words/text.ts";

const ANCHORS = ["date", "bred", "due", "kidded", "born"];
const AGAIN = [0, 7, 14, 28, 42, 91, 182, 365];
const isDate = (values: Values) => values["anchor"] === "date" || !values["anchor"];
const again = (d: number) => t(AGAIN.includes(d) ? `own.every.${d}` : "own.every", { n: d });
const DAYS: Pick<Field, "kind" | "scale" | "blank" | "show"> = {
  kind: "number", scale: 1, blank: 0, show: (values) => !isDate(values),
};

export const OWN: Field[] = [
  { key: "title", kind: "text", label: () => "own.title", hint: "own.title.hint" },
  { key: "anchor", kind: "choice", label: () => "own.anchor", options: () => anchors() },
  { key: "date", kind: "date", label: () => "own.date", show: isDate },
  { key: "from_d", label: () => "own.from_d", hint: "own.days.hint", ...DAYS },
  { key: "to_d", label: () => "own.to_d", ...DAYS },
  { key: "every_d", kind: "choice", scale: 1, label: () => "own.again", options: () => agains() },
];
const anchors = () => ANCHORS.map((value) => ({ value, label: t(`own.anchor.${value}`) }));
const agains = () => AGAIN.map((d) => ({ value: String(d), label: again(d) }));

/** What is kept of a form: a date has no days, the others no date. */
export function keptOf(data: Data): Data {
  const dated = data["anchor"] === "date";
  const days: Data = dated ? { from_d: 0, to_d: 0 } : { date: "" };
  return { ...data, ...days };
}

/** "Every year on 2 Nov", "20 to 6 days before she is due, each week". */
export function whenOf(f: Data): string {
  const [anchor, every_d] = [String(f["anchor"] ?? ""), Number(f["every_d"] ?? 0)];
  const days = anchor === "date"
    ? calendar(String(f["date"] ?? ""), day.today)
    : t("own.days", { what: t(`own.anchor.${anchor}`), from: Number(f["from_d"]), to: Number(f["to_d"]) });
  return every_d ? `${days}, ${again(every_d)}` : days;
}
