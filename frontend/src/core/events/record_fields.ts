import {
  choice, day, feedRef, feedRefs, flag, orBlank, orUnknown, orZero, text, whole, type Check, type Fault,
} from "./checks.ts";
import type { Json } from "./events.ts";
import { CARDS } from "./kinds.ts";
import { RULE_LIMITS } from "./rule_limits.ts";

/** The fields of the records people keep. Twin of herd/state/record_fields.py. */
export const SIZES = ["standard", "mini"] as const;
export const SEXES = ["doe", "buck"] as const;
export const CONTACT_ROLES = ["owner", "family", "vet", "second_vet", "neighbour", "other"] as const;
export const BREEDS = [
  "alpine", "saanen", "toggenburg", "nubian", "lamancha", "oberhasli", "sable", "grade", "boer", "angora", "pygmy",
  "nigerian_dwarf", "mini_cross", "unknown",
] as const;
export const KEEPERS = ["easy", "even", "hard"] as const;
export const PEN_ROLES = ["milkers", "mixed", "first", "close_up", "other"] as const;
export const MAJORS = ["mg", "k", "na", "cl", "s"] as const;
export const TRACES = ["cu", "zn", "mn", "fe", "co", "i", "se", "mo"] as const;
export const FEED_CLASSES = [
  "legume", "grass", "mixed", "grain", "protein", "byproduct", "fat", "mineral", "fodder",
] as const;
export const TDN_WAYS = [
  "", "summative", "california", "oklahoma", "lab", "me", "nel", "fibre_legume", "fibre_corn_silage", "unknown",
] as const;
const LAB_COLUMNS = ["", "received", "dry", "both"] as const;

const ORDER = whole(0, 100_000);
const COMPOSITION: Record<string, Check> = {
  dm_pct_x10: orUnknown(whole(10, 1_000)),
  tdn_pct_x10: orUnknown(whole(0, 2_000)),
  cp_pct_x10: orUnknown(whole(0, 3_000)),
  ndf_pct_x10: orUnknown(whole(0, 1_000)),
  ca_pct_x100: orUnknown(whole(0, 4_100)),
  p_pct_x100: orUnknown(whole(0, 3_200)),
  ...Object.fromEntries(MAJORS.map((name) => [`${name}_pct_x100`, orUnknown(whole(0, 10_000))])),
  ...Object.fromEntries(TRACES.map((name) => [`${name}_ppm_x100`, orUnknown(whole(0, 100_000_000))])),
  uip_pct_x10: orUnknown(whole(0, 1_000)), tdn_by: choice(TDN_WAYS), lab_column: choice(LAB_COLUMNS),
  lab_on: orBlank(day),
};
const SPROUTS: Record<string, Check> = {
  sprout_of: orBlank(feedRef), sprout_grain_g: orZero(whole(10, 200_000)), sprout_days: orZero(whole(1, 8)),
  sprout_tray_g: orZero(whole(10, 2_000_000)),
};

export const RECORD_FIELDS: Record<string, Record<string, Check>> = {
  doe: {
    name: text(1, 40), sex: choice(SEXES), size: choice(SIZES), breed: choice(BREEDS), born_on: orBlank(day),
    mature_kg: orZero(whole(10, 140)), keeper: choice(KEEPERS), growing: orUnknown(flag),
    kiddings_before: whole(0, 20), order: ORDER, tag: text(0, 40), fat_x100: whole(0, 1_500),
    wont_eat: feedRefs(40), had_toxemia: flag, had_milk_fever: flag,
  },
  pen: {
    name: text(1, 40), order: ORDER, waste_pm: whole(0, 600), activity_pm: whole(1_000, 1_600), role: choice(PEN_ROLES),
  },
  feed: {
    name: text(1, 60), like: orBlank(feedRef), class: orBlank(choice(FEED_CLASSES)), free_choice: flag,
    free_g_x10: orUnknown(whole(0, 5_000)), ...SPROUTS, ...COMPOSITION,
  },
  lot: {
    name: text(1, 60), feed: feedRef, flake_g: whole(0, 30_000), opened_on: orBlank(day), use_by_d: whole(0, 60),
    ...COMPOSITION,
  },
  contact: { name: text(1, 60), role: choice(CONTACT_ROLES), phone: text(0, 40), order: ORDER },
  shelf: {
    card: choice(CARDS), told: text(0, 1_000), product: text(0, 80), place: text(0, 80), expires_on: orBlank(day),
    gone: flag,
  },
  scoop: { name: text(1, 40), feed: feedRef, order: ORDER, gone: flag },
  jar: {
    name: text(0, 40), feed: feedRef, dry_g: whole(1, 200_000), soaked_on: day, days: whole(1, 14),
    done_on: orBlank(day),
    thrown: flag,
  },
};

const RULE_NAME = /^[a-z][a-z0-9_]{0,40}$/;
const ANY_RULE = whole(-1_000_000_000, 1_000_000_000);
const ANY_RULE_TEXT = text(0, 60);

/** Herd rules are an open table: a number or a short word. The server's table decides which are known. */
export function ruleFault(name: string, value: Json): Fault | null {
  if (!RULE_NAME.test(name)) return { code: "code" };
  return typeof value === "string" ? ANY_RULE_TEXT(value) : ANY_RULE(value);
}

/** What the server would say of a choice it knows; a form asks before it records. */
export function ruleLimitFault(name: string, value: Json): Fault | null {
  const limits = Object.hasOwn(RULE_LIMITS, name) ? RULE_LIMITS[name]! : null;
  return limits ? whole(...limits)(value) : null;
}
