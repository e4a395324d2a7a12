import type { PromptCode } from "../../tables/prompts.ts";
import type { Step } from "../../state/view.ts";
import type { Change } from "../gates/change.ts";
import type { Nutrient } from "../ground/shapes.ts";

/** What can be done about a feed prompt with what is on the farm. The rungs of the ladder, the way up first. */
export type ActCode =
  | "fill_feeder" | "own_bowl" | "better_hay" | "legume_up" | "grain_up" | "protein_up" | "hay_and_grain"
  | "grain_down" | "legume_down" | "plainer" | "hay_down" | "hay_for_grain" | "hold_split" | "safe_steps"
  | "hay_in_steps" | "keep_amount" | "give_back" | "pen_plan" | "move"
  | PlanCode;

/** A stretch of her year put in whole: see plans/. */
export type PlanCode = "plan_dry" | "plan_close_up" | "plan_fresh";

/** One amount in the plan, grams as fed; `subject` whose plan it is: a doe's own or a feeder's. */
export interface ActLine {
  subject: string;
  to: "doe" | "pen";
  slot: string;
  feed: string;
  from_g: number;
  /** What is given from each date on; the first is where the plan is written anew. */
  steps: Step[];
  /** Who is moved to that feeder, on its first day. */
  moves?: string;
}

/** As somebody would set them by hand. */
export const changes_of = (lines: ActLine[]): Change[] =>
  lines.map(({ subject, feed, slot, steps }) => ({ subject, feed, slots: [slot], steps }));

export interface Brings {
  of: Nutrient;
  /** Share of need on `by_on`, when all of its steps are in: as the plan is now, and with them. */
  from_pm: number;
  to_pm: number;
  by_on: string;
}

export interface Act {
  code: ActCode;
  to: "doe" | "pen";
  subject: string;
  lines: ActLine[];
  brings: Brings;
  /** It brings her back within two weeks, not within one: its steps take their days. */
  slow: boolean;
  /** The day from which it is to be looked at anew: she kids or dries off, or it was tried no farther. */
  ends_on: string;
  /** Of a plan for a whole feeder: what it brings each of those it is for. */
  each?: { doe: string; brings: Brings }[];
  moves?: Move;
}

/** Who goes to which pen, on the first day of its lines; `made`: there is no such pen yet. */
export interface Move {
  doe: string;
  pen: string;
  made: boolean;
}

/** What would do it where nothing on hand does; `feed` "" where no amount of anything would. */
export interface Lacking {
  feed: string;
  g: number;
  /** How far from need she stays, permille of it, and for how many of the days looked at. */
  pm: number;
  days: number;
  /** What on hand goes part of the way; it promises no more than it brings. */
  helps: Act | null;
}

export interface Acts {
  for: PromptCode | "";
  of: Nutrient | "";
  /** The smallest first. */
  offered: Act[];
  none: Lacking | null;
  /** From when on her plan as it is has already answered it; "" where it does not. */
  by_plan: string;
  /** What she gets stays: it is her need that changes. */
  by_need: boolean;
}

export const NO_ACTS: Acts = { for: "", of: "", offered: [], none: null, by_plan: "", by_need: false };
