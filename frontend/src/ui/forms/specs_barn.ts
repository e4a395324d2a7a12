import { TOLD_BY } from "../../core/tables/forms.ts";
import { day } from "../model/day.svelte.ts";
import { t } from "../words/text.ts";
import type { Field } from "./fields.ts";
import { counts, feedOptions } from "./options.ts";

const who = () => TOLD_BY.map((value) => ({ value, label: t(`o.who.${value}`) }));

export const SCOOP: Field[] = [
  { key: "name", kind: "text", hint: "hint.scoop" },
  { key: "feed", kind: "pick", options: () => feedOptions(), hint: "hint.scoop_feed" },
];

const SPROUTED = /^(barley|oats|wheat|rye|triticale|corn)_/;
/** The farm's own trays first, then grains that are sprouted. */
const sprouting = () => {
  const own = Object.entries(day.view.feeds).filter(([, { f }]) => f["sprout_of"]).map(([id]) => id);
  const all = feedOptions();
  return [
    ...all.filter(({ value }) => own.includes(value)),
    ...all.filter(({ value }) => SPROUTED.test(value) && day.feeds[value]?.class === "grain"),
  ];
};

export const JAR: Field[] = [
  { key: "name", kind: "text", blank: "", hint: "hint.jar" },
  { key: "feed", kind: "pick", options: sprouting },
  { key: "dry_g", kind: "number", mass: 1000, fine: true },
  { key: "soaked_on", kind: "date" },
  { key: "days", kind: "choice", options: counts(1, 10), scale: 1 },
];

/** Free text throughout: nothing is suggested and no dose is ours. */
export const TREATMENT: Field[] = [
  { key: "product", kind: "text", label: () => "f.given", hint: "hint.given" },
  { key: "told", kind: "long", blank: "", label: () => "f.told_dose", hint: "hint.told_dose" },
  { key: "why", kind: "text", blank: "", label: () => "f.treat_why" },
  { key: "who", kind: "choice", options: who },
  { key: "milk_until", kind: "date", blank: "", hint: "hint.hold" },
  { key: "meat_until", kind: "date", blank: "" },
  { key: "selenium", kind: "check", hint: "hint.carries" },
  { key: "copper", kind: "check" },
  { key: "on", kind: "date" },
];
