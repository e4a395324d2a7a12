/** What the server compiled, as it travels and lies on the phone: the part every outlook has. */
export interface OutlookDoc {
  doe: string;
  rev: number;
  [key: string]: unknown;
}

/** One possible course of a doe: integers by day. */
export interface Branch {
  phase: number[];
  lane: number[];
  gest: number[];
  me_kj: number[];
  cp_mg: number[];
  maint_kj: number[];
  growth_kj: number[];
  preg_me_kj: number[];
  preg_cp_mg: number[];
  preg_ca_mg: number[];
  preg_p_mg: number[];
  me_sd_kj: number[];
  ca_mg: number[];
  p_mg: number[];
  floor_me_kj: number[];
  milk_g: number[];
  appetite_g: number[];
  band_lo: number[];
  band_hi: number[];
  plan_grain_g: number[];
  plan_legume_pm: number[];
}

export interface Due {
  early: string;
  mid: string;
  late: string;
  printed: string;
  /** Chance in millionths that she kids on each day from day0 on; not in what an older server compiled. */
  day0?: string;
  ppm?: number[];
}

export interface Season {
  day0: string;
  me_kj: number[];
  floor_me_kj: number[];
  phase: number[];
  appetite_g: number[];
}

/** Who she was worked as. */
export interface Who {
  size: string;
  first: boolean;
  growing: boolean;
  keeper: string;
  mass_g: number;
  mass_from: "scale" | "tape" | "class";
  litter_x100: number;
  litter_from: string;
  kid_g: number;
}

/** Risk points that stand still, and the tables for those that change by the day. */
export interface RiskPart {
  toxemia: [code: string, points: number][];
  milk_fever: [code: string, points: number][];
  litter: [code: string, points: number][];
  counted: boolean;
  points: Record<string, number>;
  edges: Record<string, number>;
}

/** The recorded state it was compiled for; the phone compares and switches branch. */
export interface Basis {
  bred: string;
  check: string;
  dried: string;
  kidded: string;
  weight: string;
}

/** A line that is silent and why; value, low and high are thousandths of the unit of `name`. */
export interface Withheld {
  line: string;
  why: string;
  name: string;
  value: number;
  low: number;
  high: number;
}

/** What goes with milk, dry matter and scores, per piece. */
export interface Drivers {
  fcm_pm: number;
  me_kj_per_kg_fcm: number;
  cp_mg_per_kg_milk: number;
  ca_mg_per_kg_milk: number;
  p_mg_per_kg_milk: number;
  cp_mg_per_kg_dm: number;
  ca_mg_per_kg_dm: number;
  p_mg_per_kg_dm: number;
  appetite_g_per_kg_fcm: number;
  me_kj_per_point: number;
  /** Missing in what an older server compiled, and then no score is foretold. */
  me_kj_per_point_lost: number;
  point_sd_pm: number;
  score_sd_x100: number;
  g_per_unit: number;
}

/** Grain in grams of dry-grain equivalent, forage in grams of dry matter. */
export interface Limits {
  grain_meal_g: number;
  grain_day_g: number;
  grain_day_pm: number;
  milk_grain_day_g: number;
  milk_grain_day_pm: number;
  step_g: number;
  step_days: number;
  forage_floor_g: number;
}

/**
 * What ran for each term: places in the reference's list, whose mark is `of`, a run of them as first-last, then the
 * herd rules read. Branches go in alphabetical order, each saying only what differs from the one before.
 */
export interface Cites {
  of: string;
  rules: Record<string, number>;
  terms: Record<string, string>;
  branches: Record<string, Record<string, string>>;
}

/** One doe's outlook; its twin is herd/outlook/shapes.py. Optional: not in what an older server compiled. */
export interface Outlook extends OutlookDoc {
  schema: number;
  science: string;
  compiled_on: string;
  day0: string;
  n: number;
  basis: Basis;
  who?: Who;
  due: Due | null;
  assumed: string[];
  withheld: Withheld[];
  drivers: Drivers;
  limits: Limits;
  branches: Record<string, Branch>;
  season?: Season | null;
  steps: { on: string; g: number }[];
  risk?: RiskPart;
  cites?: Cites;
}
