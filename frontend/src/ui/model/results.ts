/**
 * The evaluated shapes under the names the screens use, and the parts of an outlook that are only shown, never reckoned
 * with.
 */
export type {
  DoeResult, FullResult, Nutrient as NutrientKey, NutrientLine as Line, Prompt, Results, State,
} from "../../core/outlook/shapes.ts";
import type { Outlook as Compiled, Who } from "../../core/outlook/shapes.ts";

export interface Outlook extends Compiled {
  assumed: string[];
  compiled_on: string;
  withheld: { line: string; why: string; name: string; value: number; low: number; high: number }[];
  who: Who;
}
