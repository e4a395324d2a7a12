import { checkup_2 } from "../../core/events/upcast.ts";
import { MIN_MS } from "../../core/base/days.ts";
import { addDays } from "../words/format.ts";
import { day } from "../model/day.svelte.ts";
import type { Data, Doe, Kind, When } from "../model/shapes.ts";
import type { Field } from "./fields.ts";
import { withBuck } from "../../core/barn/evidence.ts";
import * as from from "./options.ts";

/** The plain form of one event kind about a doe: what it asks, what it starts with, what it writes. */
export interface Spec {
  kind: Kind;
  fields: Field[];
  start?: (doe: Doe) => Data;
  data?: (data: Data, doe: Doe) => Data;
  when?: (data: Data, doe: Doe) => When;
}

const on: Field = { key: "on", kind: "date" };
const happenedOn = (data: Data): When => ({ on: String(data["on"]), slot: "" });

/** The buck is still in: until today as it is written down, and from day to day for her dates. */
const stillIn = (from_on: Data[string]) => (String(from_on) > day.today ? from_on : day.today);

/** When the last kid came, as far as somebody said; else when it was written down. */
function kiddedAt(data: Data): When {
  return data["ago"] ? { ...happenedOn(data), happened: Date.now() - Number(data["ago"]) * MIN_MS } : happenedOn(data);
}

export const SPECS: Record<string, Spec> = {
  bred: {
    kind: "bred",
    fields: [
      { key: "how", kind: "choice", options: from.bredHow },
      { key: "from_on", kind: "date", label: ({ how }) => (how === "hand" ? "f.bred_on" : "f.from_on") },
      { key: "to_on", kind: "date", show: ({ how }) => how === "pen", blank: "", hint: "hint.to_on" },
      { key: "buck", kind: "text", blank: "", later: true },
    ],
    start: () => ({ how: "hand", from_on: day.today }),
    data: (data) => ({
      ...data, to_on: data["how"] === "pen" ? data["to_on"] || stillIn(data["from_on"] ?? "") : (data["from_on"] ?? ""),
      ...(data["how"] === "pen" && !data["to_on"] ? { still: true } : {}),
    }),
    when: (data) => ({ on: String(data["from_on"]), slot: "" }),
  },
  buck_out: {
    kind: "bred",
    fields: [{ key: "to_on", kind: "date" }],
    start: () => ({ to_on: day.today }),
    data: ({ to_on }, doe) => ({
      how: "pen", from_on: withBuck(doe)?.from ?? "", to_on: to_on ?? "", buck: withBuck(doe)?.buck ?? "",
    }),
    when: (_, doe) => ({ on: withBuck(doe)?.from ?? day.today, slot: "" }),
  },
  heat: { kind: "heat", fields: [{ key: "what", kind: "choice", options: from.heats }, on], when: happenedOn },
  preg_check: {
    kind: "preg_check",
    fields: [
      { key: "result", kind: "choice", options: from.results },
      {
        key: "kids", kind: "choice", options: from.counts(0, 5), scale: 1, blank: 0, hint: "hint.kids",
        show: ({ result }) => result === "pregnant",
      },
      { key: "how", kind: "choice", options: from.checkHow },
      {
        key: "aged_d", kind: "number", unit: "d", blank: 0, hint: "hint.aged_d",
        show: ({ result, how }) => result === "pregnant" && how === "scan",
      },
      on,
    ],
    start: () => ({ how: "scan", kids: 0 }),
    when: happenedOn,
  },
  moved: {
    kind: "moved", fields: [{ key: "pen", kind: "choice", options: from.penOptions, blank: "" }, on],
    start: (doe) => ({ pen: doe.pen }), when: happenedOn,
  },
  dried_off: { kind: "dried_off", fields: [on], when: happenedOn },
  kidded: {
    kind: "kidded",
    fields: [
      { key: "born", kind: "choice", options: from.counts(0, 6), scale: 1 },
      { key: "alive", kind: "choice", options: from.counts(0, 6), scale: 1 },
      on,
      {
        key: "ago", kind: "choice", options: from.kiddedAgo, blank: "", hint: "hint.ago",
        show: ({ on }) => on === day.today || on === day.slotDay,
      },
    ],
    start: () => ({ ago: "" }),
    data: ({ ago, ...data }) => ({ ...data, timed: Boolean(ago) }),
    when: kiddedAt,
  },
  left_herd: {
    kind: "left_herd", fields: [{ key: "why", kind: "choice", options: from.leftWhy }, on], when: happenedOn,
  },
  weight: {
    kind: "weight",
    fields: [
      { key: "how", kind: "choice", options: from.weighHow },
      { key: "g", kind: "number", mass: 1000, hint: "hint.weight" },
      {
        key: "girth_mm", kind: "number", length: true, blank: 0, show: ({ how }) => how === "tape",
        hint: "hint.girth",
      },
      {
        key: "length_mm", kind: "number", length: true, blank: 0, show: ({ how }) => how === "tape",
        hint: "tape.what",
      },
      on,
    ],
    start: () => ({ how: "scale" }),
    when: happenedOn,
  },
  milk: {
    kind: "milk",
    fields: [
      { key: "slot", kind: "choice", options: from.slots },
      { key: "milk_g", kind: "number", mass: 1000 },
      { key: "fat_x100", kind: "number", scale: 100, unit: "%", blank: 0, later: true },
      on,
    ],
    start: () => ({ slot: day.slot }),
    data: ({ milk_g, fat_x100 }) => ({ ...(milk_g === undefined ? {} : { g: milk_g }), fat_x100: fat_x100 ?? 0 }),
    when: ({ slot, on }) => ({ on: String(on), slot: slot as never }),
  },
  checkup: {
    kind: "checkup",
    fields: [
      { key: "temp_c_x10", kind: "number", warmth: 10, blank: 0, hint: "hint.temp" },
      { key: "bhb_x10", kind: "number", scale: 10, unit: "mmol/L", blank: 0, hint: "hint.bhb" },
      { key: "urine", kind: "choice", options: from.urine, blank: "" },
      on,
    ],
    start: () => ({ urine: "" }),
    data: checkup_2,
    when: happenedOn,
  },
  got_into: {
    kind: "got_into",
    fields: [
      { key: "g", kind: "number", mass: 1000, blank: null, hint: "hint.got_into", label: () => "f.got_into_g" },
      { key: "feed", kind: "pick", options: () => from.feedOptions(), blank: "" },
    ],
  },
  note: { kind: "note", fields: [{ key: "text", kind: "long" }] },
};

export const DOE: Field[] = [
  { key: "name", kind: "text" },
  { key: "size", kind: "choice", options: from.sizes },
  { key: "breed", kind: "pick", options: from.breeds, blank: "unknown", later: true },
  { key: "kiddings_before", kind: "number", blank: 0, later: true, hint: "hint.kiddings_before" },
  { key: "growing", kind: "choice", options: from.growing, blank: null, later: true, hint: "hint.growing" },
  { key: "keeper", kind: "choice", options: from.keepers, blank: "even", later: true, hint: "hint.keeper" },
  { key: "born_on", kind: "date", blank: "", later: true },
  { key: "mature_kg", kind: "number", mass: 1, blank: 0, later: true, hint: "hint.mature_kg" },
  { key: "fat_x100", kind: "number", scale: 100, unit: "%", blank: 0, later: true, hint: "hint.fat" },
  { key: "had_toxemia", kind: "check", blank: false, later: true, hint: "hint.had" },
  { key: "had_milk_fever", kind: "check", blank: false, later: true, hint: "hint.had" },
  { key: "tag", kind: "text", blank: "", later: true },
  { key: "mark", kind: "text", blank: "", later: true, hint: "hint.mark" },
  { key: "order", kind: "number", blank: 0, later: true, hint: "hint.order" },
];
export const NEW_DOE: Field[] = [
  ...DOE.slice(0, 2),
  { key: "bred_on", kind: "date", blank: "", hint: "hint.bred_on" },
  { key: "milking", kind: "choice", options: from.milking, blank: "" },
  { key: "kidded_on", kind: "date", show: ({ milking }) => milking === "milk", hint: "hint.kidded_on" },
  {
    key: "born", kind: "choice", options: from.counts(1, 6), scale: 1, show: ({ milking }) => milking === "milk",
  },
  { key: "pen", kind: "choice", options: from.penOptions, blank: "" },
  ...DOE.slice(2),
];
export const WEATHER: Field[] = [
  { key: "low_c", kind: "number", warmth: 1 },
  { key: "wet", kind: "check" },
  on,
];
export const PEN: Field[] = [
  { key: "name", kind: "text", hint: "hint.pen_name" },
  { key: "role", kind: "choice", options: from.roles, blank: "other" },
  { key: "waste_pm", kind: "number", scale: 10, unit: "%", blank: 0, later: true, hint: "hint.waste" },
  { key: "activity_pm", kind: "number", scale: 10, unit: "%", blank: 1000, later: true, hint: "hint.activity" },
];
const COMPOSITION: Field[] = [
  ...["dm_pct_x10", "cp_pct_x10", "tdn_pct_x10", "ndf_pct_x10"].map((key): Field => ({
    key, kind: "number", scale: 10, unit: "%", blank: null,
  })),
  ...["ca_pct_x100", "p_pct_x100"].map((key): Field => ({ key, kind: "number", scale: 100, unit: "%", blank: null })),
];
export const FEED: Field[] = [
  { key: "name", kind: "text", hint: "hint.feed_name" },
  { key: "class", kind: "choice", options: from.feedClasses, blank: "" },
  { key: "like", kind: "pick", options: () => from.feedOptions(true), blank: "", hint: "hint.like" },
  ...COMPOSITION,
];
export const LOT: Field[] = [
  { key: "name", kind: "text", hint: "hint.lot_name" },
  { key: "feed", kind: "pick", options: from.lotFeedOptions },
  { key: "flake_g", kind: "number", mass: 1000, blank: 0, hint: "hint.flake" },
  { key: "opened_on", kind: "date", blank: "" },
  { key: "use_by_d", kind: "number", blank: 0, hint: "hint.use_by", later: true },
  ...COMPOSITION.map((field) => ({ ...field, later: true })),
];

export const tomorrow = () => addDays(day.today, 1);
