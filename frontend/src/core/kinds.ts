/** The closed list of event kinds and the version this app writes. Twin of herd/state/kinds.py. */
export const RECORD_KINDS = ["doe", "pen", "feed", "lot", "rules"] as const;
export const STATE_KINDS = ["bred", "preg_check", "moved", "dried_off", "kidded", "left_herd"] as const;
export const OF_DOE_KINDS = ["udder", "score", "signs", "weight", "milk", "checkup"] as const;
export const MEAL_KINDS = ["fed", "intake"] as const;
export const CHAIN_KINDS = ["void", "correct"] as const;

export type Kind =
  | (typeof RECORD_KINDS)[number] | (typeof STATE_KINDS)[number] | (typeof OF_DOE_KINDS)[number]
  | (typeof MEAL_KINDS)[number] | (typeof CHAIN_KINDS)[number] | "ration" | "note" | "weather" | "water";

export const VERSIONS: Record<Kind, number> = {
  doe: 1, pen: 1, feed: 1, lot: 1, rules: 1, ration: 1,
  bred: 1, preg_check: 1, moved: 1, dried_off: 1, kidded: 1, left_herd: 1,
  fed: 1, intake: 1, udder: 1, score: 1, signs: 1, weight: 2, milk: 1, note: 1,
  checkup: 1, weather: 1, water: 1,
  void: 1, correct: 1,
};

export const SLOTS = ["", "morning", "midday", "evening", "late"] as const;
export type Slot = (typeof SLOTS)[number];

export const SIGNS = [
  "udder_full", "teats_strutted", "ligaments_soft", "ligaments_gone", "tail_raised", "vulva_slack", "mucus_thin",
  "mucus_amber", "temp_drop", "alone", "off_feed", "pawing", "talking", "straining", "water_bag",
] as const;

/** What a water test may name, and the units it is printed in; hardness and pH are kept as printed and judged by nobody. */
export const WATER = [
  "tds", "sulfate", "nitrate_n", "nitrate", "nitrite", "fe", "mn", "ca", "mg", "na", "k", "mo", "cu", "zn", "se", "chloride",
  "hardness", "ph",
] as const;
export const WATER_UNITS = ["mg_l", "ug_l", ""] as const;

/** What this build can read; any other event is kept and parked. */
export function isKnown(kind: string, v: number): kind is Kind {
  return Object.hasOwn(VERSIONS, kind) && v >= 1 && v <= VERSIONS[kind as Kind];
}
