import { BREEDS, KEEPERS, PEN_ROLES, SIZES } from "../../core/events/record_fields.ts";
import { SLOTS } from "../../core/events/kinds.ts";
import { feedChoices, nameOf, pens } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { t } from "../words/text.ts";
import type { Option } from "./fields.ts";

const of = (prefix: string, values: readonly string[]) => (): Option[] =>
  values.map((value) => ({ value, label: t(`${prefix}.${value}`) }));

export const counts = (from: number, upto: number) => (): Option[] =>
  Array.from({ length: upto - from + 1 }, (_, i) => ({ value: String(from + i), label: String(from + i) }));

export const sizes = of("o.size", SIZES);
export const breeds = of("o.breed", BREEDS);
export const keepers = of("o.keeper", KEEPERS);
export const roles = of("o.role", PEN_ROLES);
export const growing = of("o.growing", ["", "true", "false"]);
export const bredHow = of("o.bred", ["hand", "pen"]);
export const results = of("o.result", ["pregnant", "open", "unsure"]);
export const checkHow = of("o.check", ["scan", "blood", "other"]);
export const leftWhy = of("o.why", ["sold", "died", "culled", "other"]);
export const weighHow = of("o.weigh", ["scale", "tape"]);
export const urine = of("o.urine", ["", "none", "trace", "small", "moderate", "large"]);
export const slots = of("slot", SLOTS.filter(Boolean));
export const units = of("o.units", ["metric", "lb"]);

export const penOptions = (): Option[] => [
  ...pens(day.view).map((pen) => ({ value: pen.id, label: nameOf(pen) })),
  { value: "", label: t("pen.none") },
];

export function feedOptions(libraryOnly = false): Option[] {
  return feedChoices(day.view, day.feeds)
    .filter(({ group }) => !libraryOnly || group !== "own")
    .flatMap(({ group, items }) =>
      items.map(({ id, name }) => ({ value: id, label: name, group: t(`class.${group}`) })),
    );
}
/** What a lot can be a lot of: own feeds and the book, not another lot. */
export const lotFeedOptions = () => feedOptions().filter(({ value }) => !day.view.lots[value]);
