/** The evaluated shapes under the names the screens use. */
export type {
  DoeResult, FullResult, Nutrient as NutrientKey, NutrientLine as Line, Outlook, Prompt, Results, State, Who,
} from "../../core/outlook/shapes.ts";
