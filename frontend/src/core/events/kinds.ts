/** The closed list of event kinds and the version this app writes. Twin of herd/state/kinds.py. */
export const RECORD_KINDS = ["doe", "pen", "feed", "lot", "rules", "contact", "shelf", "scoop", "jar"] as const;
export const STATE_KINDS = [
  "bred", "preg_check", "moved", "dried_off", "kidded", "left_herd", "treatment", "freeze",
] as const;
export const OF_DOE_KINDS = ["udder", "score", "signs", "weight", "milk", "checkup", "triage"] as const;
export const MEAL_KINDS = ["fed", "intake"] as const;
export const BARN_KINDS = ["note", "weather", "water", "round"] as const;
export const MEASURE_KINDS = ["calibration", "new_bag"] as const;
export const CHAIN_KINDS = ["void", "correct"] as const;
/** What is seen and not kept for ever: a phone lets it go when it is older than its window. */
export const SEEN_KINDS = [...MEAL_KINDS, ...OF_DOE_KINDS, ...BARN_KINDS] as const;

export type Kind =
  | (typeof RECORD_KINDS)[number]
  | (typeof STATE_KINDS)[number]
  | (typeof OF_DOE_KINDS)[number]
  | (typeof MEAL_KINDS)[number]
  | (typeof BARN_KINDS)[number]
  | (typeof MEASURE_KINDS)[number]
  | (typeof CHAIN_KINDS)[number]
  | "ration";

export const VERSIONS: Record<Kind, number> = {
  doe: 1, pen: 1, feed: 1, lot: 1, rules: 1, ration: 1,
  bred: 1, preg_check: 1, moved: 1, dried_off: 1, kidded: 1, left_herd: 1,
  fed: 1, intake: 1, udder: 1, score: 1, signs: 1, weight: 2, milk: 1, note: 1,
  checkup: 2, triage: 1, weather: 1, water: 1, round: 1,
  contact: 1, shelf: 1, scoop: 1, jar: 1, treatment: 1, freeze: 1, calibration: 1, new_bag: 1,
  void: 1, correct: 1,
};

export const SLOTS = ["", "morning", "midday", "evening", "late"] as const;
export type Slot = (typeof SLOTS)[number];

export const SIGNS = [
  "udder_full", "teats_strutted", "ligaments_soft", "ligaments_gone", "tail_raised", "vulva_slack", "mucus_thin",
  "mucus_amber", "temp_drop", "alone", "off_feed", "pawing", "talking", "straining", "water_bag",
] as const;

/**
 * What a water test may name, and the units it is printed in; hardness and pH are kept as printed and judged by nobody.
 */
export const WATER = [
  "tds", "sulfate", "nitrate_n", "nitrate", "nitrite", "fe", "mn", "ca", "mg", "na", "k", "mo", "cu", "zn", "se",
  "chloride", "hardness", "ph",
] as const;
export const WATER_UNITS = ["mg_l", "ug_l", ""] as const;
/** The emergency cards. */
export const CARDS = [
  "milk_fever", "toxemia", "hard_kidding", "placenta", "mastitis", "bloat", "listeria", "cold_kid", "abortion",
] as const;
export const MINERALS = ["selenium", "copper"] as const;
export const ROUNDS = ["heads", "water", "hay", "released", "gates"] as const;

/** What this build can read; any other event is kept and parked. */
export function isKnown(kind: string, v: number): kind is Kind {
  if (typeof kind !== "string" || !Object.hasOwn(VERSIONS, kind)) return false;
  return Number.isSafeInteger(v) && v >= 1 && v <= VERSIONS[kind as Kind];
}
