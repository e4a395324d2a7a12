import type { PromptCode } from "../../tables/prompts.ts";
import type { Rest, Stage, Urgency } from "../../tables/off_feed.ts";
import type { Triage } from "../../state/view.ts";
import type { Branch, Due } from "./documents.ts";

/** The branch that holds for a doe on a date, and the date's place in it. */
export type BranchDay = [branch: Branch, index: number];

export type FeedLine = [feed: string, g: number];

/** What one doe ate on one day, in grams by feed. */
export interface Eaten {
  dm: Record<string, number>;
  own: Record<string, number>;
  offered: Record<string, number>;
  /** Grams as fed of feeds whose dry matter nobody knows: never nothing, and never counted as eaten. */
  unweighed: Record<string, number>;
  slots: string[];
  meal_g: number;
  day_g: number;
}

export interface Risk {
  band: "low" | "alert" | "urgent";
  points: number;
  factors: { code: string; points: number }[];
  most: string;
  by_sign: boolean;
  /** What nobody has looked at yet; `blind` where that is everything. */
  unknown: string[];
  blind: boolean;
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

/** Sums of so many days. */
export interface Fed extends Sums {
  days: number;
}

export interface Window extends Fed {
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
  ahead: { st: "short" | "over"; on: string } | null;
  loss_g_d?: number;
  of?: "doe" | "pen";
}

export type Args = Record<string, unknown>;

export interface Said {
  code: PromptCode;
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
    stage: Stage;
    meals: number;
    what: string;
    down: boolean;
    urgency: Urgency | "called";
    since_ms: number;
    recheck_ms: number;
    vet_ms: number;
    /** From then on it is for the vet at once, unless somebody put down what ends the wait; 0: nothing waits. */
    vet_at_ms: number;
    /** How a buck passed water last; "" until somebody has looked. */
    passes: string;
    /** Readings that the case still lacks. */
    take: string;
    rests: Rest[];
  };
  looked: Triage | null;
}

/** From an instant on, a word is another one: the day's results know no clock. */
export type Turn = [at_ms: number, code: PromptCode];

/** Straining or the water bag: `why` is what the vet is called for, or what is waited for. */
export interface Labour extends Said {
  args: {
    why: Rest; on: string; since_ms: number; down: boolean; vet_at_ms: number; rests: Rest[];
    /** What is counted from: her pushing, or the water alone. */
    sign: "straining" | "water_bag";
  };
}

/** Two or more off feed since one feed was opened; a feed nobody has named is "". */
export interface OneFeed {
  feed: string;
  on: string;
  does: string[];
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
  code: PromptCode;
  rank: number;
  subject: string;
  args: Args;
  in_pen: boolean;
}

export interface ScoreAwaited {
  way: "up" | "down";
  on: string;
  x100: number;
}

/**
 * An act in her plan: from when, when all of its steps are in, what it promised by when, and how long it holds.
 * `back`: it only undoes a cut; `dry`: it dries her off.
 */
export interface OnAct {
  back: boolean;
  dry: boolean;
  of: Nutrient;
  way: "up" | "down";
  on: string;
  whole_on: string;
  to_pm: number;
  by_on: string;
  until: string;
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
  labour: Labour | null;
  /** Her kids and her afterbirth, each with its clock; the prompt is the gravest of all as of the day's beginning. */
  first_days: Said[];
  one_feed: OneFeed | null;
  /** Not up: nothing is fed to her, so no amount is shown. */
  down: boolean;
  /** Grain she ate in a jump: its looks have their hours, whatever else is said of her first. */
  ate_grain: Said | null;
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
  /** Thin or fat and on her way back: when she is to be scored next. */
  awaited: ScoreAwaited | null;
  /** What is in her plan from an act and stands: its word is not said again. */
  on_acts: OnAct[];
  risk: { toxemia: Risk | null; milk_fever: Risk | null } | null;
  prompt: Prompt | null;
}

export type Seen = Omit<DoeResult, "fibre" | "lines" | "days" | "awaited" | "on_acts" | "risk" | "prompt">;

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

/** Age in days, score x100, and the fall since it began, or the rise since the last, where one is near (`trend`). */
export interface LastScore {
  age_d: number;
  x100: number;
  fell: number;
  trend: boolean;
}

/** A weight that was old from one day until somebody weighed again. */
export interface Unweighed {
  since: string;
  until: string;
  at: number;
}
