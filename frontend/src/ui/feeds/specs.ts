import { MAJORS, TRACES } from "../../core/tables/forms.ts";
import { feedOptions, counts } from "../forms/options.ts";
import type { Field } from "../forms/fields.ts";
import { day } from "../model/day.svelte.ts";
import { t } from "../words/text.ts";

const per_cent = (key: string, later = false): Field => ({
  key, kind: "number", scale: 100, unit: "%", blank: null, later,
});
const ways = () => ["false", "true"].map((value) => ({ value, label: t(`mineral.free.${value}`) }));

/** A mineral product by its label: figures of the product as it is, which is as good as dry. */
export const MINERAL: Field[] = [
  { key: "name", kind: "text", hint: "hint.feed_name" },
  { key: "free_choice", kind: "choice", options: ways },
  {
    key: "free_g_x10", kind: "number", scale: 10, unit: "g", blank: null, hint: "mineral.eaten.hint",
    show: ({ free_choice }) => free_choice === "true",
  },
  ...["ca_pct_x100", "p_pct_x100"].map((key) => per_cent(key)),
  { key: "salt", kind: "number", scale: 100, unit: "%", blank: null, hint: "mineral.salt.hint" },
  ...["cu", "zn", "se"].map((name): Field => ({
    key: `${name}_ppm_x100`, kind: "number", scale: 100, unit: "ppm", blank: null,
  })),
  ...MAJORS.map((name) => per_cent(`${name}_pct_x100`, true)),
  ...TRACES.filter((name) => !["cu", "zn", "se"].includes(name)).map(
    (name): Field => ({ key: `${name}_ppm_x100`, kind: "number", scale: 100, unit: "ppm", blank: null, later: true }),
  ),
];

const GRAINS = /^(barley|oats|wheat|rye|triticale|sorghum|corn)_/;
const grains = () => feedOptions(true).filter(({ value }) => day.feeds[value]?.class === "grain" && GRAINS.test(value));

export const SPROUTS: Field[] = [
  { key: "name", kind: "text", hint: "sprouts.name.hint" },
  { key: "sprout_of", kind: "pick", options: grains },
  { key: "sprout_grain_g", kind: "number", mass: 1000 },
  { key: "sprout_days", kind: "choice", options: counts(1, 8), scale: 1 },
  { key: "sprout_tray_g", kind: "number", mass: 1000, blank: 0, hint: "sprouts.tray.hint" },
];

/** Which row of the book stands in until the server has worked the tray out. */
export function sproutLike(days: number): string {
  return `barley_sprouts_d${days >= 7 ? 7 : days >= 6 ? 6 : 4}`;
}
