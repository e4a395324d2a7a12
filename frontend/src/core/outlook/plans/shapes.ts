import type { ActLine, Brings, PlanCode } from "../acts/shapes.ts";
import type { Nutrient } from "../ground/shapes.ts";
import type { Finding } from "../gates/change.ts";

/** What a plan does to somebody who eats beside her, on the worst of its days. */
export interface Mate {
  doe: string;
  of: Nutrient;
  on: string;
  from_pm: number;
  to_pm: number;
}

/** What is planned for her ration, and what is said of it. Pure: nothing is recorded. */
export interface FeedPlan {
  code: PlanCode;
  doe: string;
  /** What one tap writes; they pass every gate together. Empty: nothing is left to write. */
  lines: ActLine[];
  /** What it takes from her for a while, so that nobody is asked to give it back; null where it takes nothing. */
  brings: Brings | null;
  /** Why they stop short of what is aimed at, in the gates' own words. */
  stops: Finding[];
  /** Grain a day in dry-grain equivalent: by her plan as it is, where the steps end, and what was aimed at. */
  from_g: number;
  to_g: number;
  aim_g: number;
  /** The grain and the legume it is made with, "" where it has none. */
  grain: string;
  legume: string;
  /** Who beside her would go short by it, or get too much; with more hay in their feeder nobody does. */
  mates: Mate[];
  mended: boolean;
}

export const NO_PLAN: Omit<FeedPlan, "code" | "doe"> = {
  lines: [], brings: null, stops: [], from_g: 0, to_g: 0, aim_g: 0, grain: "", legume: "", mates: [],
  mended: false,
};

/** How milking comes to its end. */
export type Way = "gradual" | "abrupt";

export interface DryPlan extends FeedPlan {
  way: Way;
  last_on: string;
  /** Who chose the day: her owner, the herd's rule, or nobody in time, so that it is as soon as her feed allows. */
  by: "own" | "rule" | "late";
  /** Days without milk before her earliest date. */
  dry_d: number;
  /** From when on she is milked less, in the order of dates. */
  milkings: [on: string, what: "once" | "other_day"][];
  /** Milk to expect on the last day, and more than what is aimed at. */
  milk_g: number;
  much_milk: boolean;
  /** So late that the last of her grain goes once her milk has stopped: sooner would be a cut. */
  after: boolean;
  /** A feeder she shares from which she gets legume: it stays as it is for whoever else stands there. */
  shared: string;
  /** A feeder she shares from which she gets grain, which can't come down for her alone. */
  shared_grain: string;
  /** Grain a day that stays, because close-up is too near for her to learn it twice. */
  keeps_g: number;
  /** She is under her band: what is rich in her hay stays. */
  thin: boolean;
}

export interface RisePlan extends FeedPlan {
  /** "": she may have one; why there is none otherwise. */
  none: "" | "not_now" | "milked" | "overdue" | "no_grain" | "no_meals" | "enough" | "unread";
  first_on: string;
  /** What keeps the steps from what is aimed at; "" where they get there. "milk": her plan goes beyond her milk. */
  short: "" | "days" | "meals" | "need" | "gate" | "milk";
  /** Steps that are wanted, and those that fit before she is to kid. */
  steps: number;
  fit: number;
  /** Held as it is until then, "" where it is not. */
  held_on: string;
  /** Milk the steps go by. */
  milk_g: number;
  /** What she lays off to her middle date with these steps in: grams, and hundredths of a score. */
  loss_g: number;
  loss_x100: number;
}
