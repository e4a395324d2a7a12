/** The evaluated shapes under the names the screens use. */
export type { Outlook, Who } from "../../core/outlook/ground/documents.ts";
export type {
  DoeResult, FullResult, Nutrient as NutrientKey, NutrientLine as Line, Prompt, Results, State,
} from "../../core/outlook/ground/shapes.ts";
