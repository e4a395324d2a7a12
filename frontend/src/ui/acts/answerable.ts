import { GOALS } from "../../core/outlook/verdict/goals.ts";
import type { DoeResult } from "../model/results.ts";

/** Whether something can be done about what is said of her. */
export const answerable = ({ prompt }: Pick<DoeResult, "prompt">): boolean => prompt !== null && prompt.code in GOALS;
