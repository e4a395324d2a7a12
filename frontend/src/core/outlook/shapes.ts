import type { Triage } from "../state/view.ts";

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

/** The branch that holds for a doe on a date, and the date's place in it. */
export type BranchDay = [branch: Branch, index: number];

export type FeedLine = [feed: string, g: number];

/** What one doe ate on one day, in grams by feed. */
export interface Eaten {
  dm: Record<string, number>;
  own: Record<string, number>;
  offered: Record<string, number>;
  slots: string[];
  meal_g: number;
  day_g: number;
}

export interface Due {
  early: string;
  mid: string;
  late: string;
  printed: string;
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
  mass_from: string;
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

export interface Risk {
  band: "low" | "alert" | "urgent";
  points: number;
  factors: { code: string; points: number }[];
  most: string;
  by_sign: boolean;
}

/** A score to come with its 80 % band, and the numbers behind it; scores and spreads x 100. */
export interface ConditionAhead {
  on: string;
  x100: number;
  lo: number;
  hi: number;
  from: number;
  age_d: number;
  net_kj: number;
  /** What her own scores add to the sums, a day. */
  own_kj_d: number;
  spread: { scorer: number; conversion: number; balance: number; litter: number };
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
  /** Missing where an older server compiled it. */
  cites?: Cites;
}

export type Nutrient = "me" | "cp" | "ca" | "p";
export type PerNutrient = Record<Nutrient, number>;
export type State = "short" | "level" | "over" | "unknown";

/** One day, or several added up. */
export interface Sums {
  need: PerNutrient;
  got: PerNutrient;
  extra: PerNutrient;
  dm: number;
  own: number;
  offered_me: number;
  own_me: number;
  need_sd: number;
  ndf_g: number;
  forage_g: number;
  /** What she could eat, of dry matter. */
  appetite_g: number;
  /** Dry matter of each feed. */
  dm_by: Record<string, number>;
}

export interface Window extends Sums {
  days: number;
  of: number;
}

export interface NutrientLine {
  need: number;
  got: number;
  days: number;
  pm: number;
  pm3: number;
  st: State;
  at_least: boolean;
  /** Feeds eaten that have no value for it. */
  blank: number;
  lo: number;
  hi: number;
  sure: boolean;
  per_p_x100?: number;
  ahead: { st: State; on: string } | null;
  loss_g_d?: number;
  of?: "doe" | "pen";
}

export type Args = Record<string, unknown>;

export interface Said {
  code: string;
  args: Args;
}

/** A case of a doe off her feed; `looked` is what somebody found who looked at her last. */
export interface OffFeed extends Said {
  args: {
    how: string;
    on: string;
    slot: string;
    left_pm: number;
    ev: string;
    stage: string;
    meals: number;
    what: string;
    down: boolean;
    urgency: "watch" | "now" | "vet_today" | "vet_now" | "called";
    since_ms: number;
    recheck_ms: number;
    vet_ms: number;
  };
  looked: Triage | null;
}

export interface Frozen {
  since: string;
  until: string;
  grain_out: boolean;
  author: string;
  days_left: number;
}

export interface Doubled {
  mineral: string;
  within_d: number;
  given: { ev: string; on: string; product: string; author: string }[];
}

export interface Prompt {
  code: string;
  rank: number;
  subject: string;
  args: Args;
  in_pen: boolean;
}

export interface DoeResult {
  id: string;
  pen: string;
  standing: "ok" | "no_outlook" | "update_needed" | "withheld" | "waiting" | "stale" | "buck";
  phase: number;
  lane: number;
  gest: number;
  due: Due | null;
  band: number[];
  off_feed: OffFeed | null;
  /** Not up: nothing is fed to her, so no amount is shown. */
  down: boolean;
  freeze: Frozen | null;
  /**
   * She is looked at every day, since she gets no grain to leave; `tapped`: the slots in which somebody said how she
   * was.
   */
  daily: boolean;
  tapped: string[];
  doubled: Doubled | null;
  checkup: Said | null;
  fibre: { ndf_pm: number; forage_g: number; st: "low" | "level" | "unknown" } | null;
  lines: Record<string, NutrientLine>;
  days: number;
  risk: { toxemia: Risk | null; milk_fever: Risk | null } | null;
  prompt: Prompt | null;
}

export type Seen = Omit<DoeResult, "fibre" | "lines" | "days" | "risk" | "prompt">;

/** With what only her own page shows, and nothing else waits for. */
export interface FullResult extends DoeResult {
  condition_ahead: ConditionAhead | null;
  /** Why there is none; "" where there is one. */
  condition_why: string;
}

export interface Results {
  does: Record<string, FullResult>;
  pens: Record<string, { prompt: Prompt | null }>;
}
