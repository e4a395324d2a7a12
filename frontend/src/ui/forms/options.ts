import { SLOTS } from "../../core/events/kinds.ts";
import {
  BRED_HOWS, BREEDS, FEED_CLASSES, KEEPERS, LEFT_WHYS, PEN_ROLES, PREG_HOWS, PREG_RESULTS, SIZES, URINE, WEIGH_HOWS,
} from "../../core/tables/forms.ts";
import { feedChoices, nameOf, pens } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { t } from "../words/text.ts";
import type { Option } from "./fields.ts";

const of = (prefix: string, values: readonly string[]) => (): Option[] =>
  values.map((value) => ({ value, label: t(`${prefix}.${value}`) }));

export const counts = (from: number, upto: number) => (): Option[] =>
  Array.from({ length: upto - from + 1 }, (_, i) => ({ value: String(from + i), label: String(from + i) }));

export const feedClasses = of("class", FEED_CLASSES);
export const sizes = of("o.size", SIZES);
export const breeds = of("o.breed", BREEDS);
export const keepers = of("o.keeper", KEEPERS);
export const roles = of("o.role", PEN_ROLES);
export const growing = of("o.growing", ["", "true", "false"]);
export const milking = of("o.milking", ["milk", "dry", "never"]);
export const bredHow = of("o.bred", BRED_HOWS);
export const heats = of("o.heat", ["marked", "standing", "flagging"]);
export const results = of("o.result", PREG_RESULTS);
export const checkHow = of("o.check", PREG_HOWS);
export const leftWhy = of("o.why", LEFT_WHYS);
export const weighHow = of("o.weigh", WEIGH_HOWS);
export const urine = of("o.urine", URINE);
/** Minutes since the last kid; blank where nobody knows. */
export const kiddedAgo = of("o.ago", ["5", "30", "60", "120", "240", "480", ""]);
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
