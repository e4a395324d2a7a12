import { GOALS } from "../../core/outlook/verdict/goals.ts";
import type { DoeResult } from "../model/results.ts";

/** The reading that would settle it is asked for whatever can be done meanwhile. */
export const asks_reading = ({ prompt }: Pick<DoeResult, "prompt">): boolean => Boolean(prompt?.args["ask"]);

/** Whether something can be done about what is said of her. */
export const answerable = ({ prompt }: Pick<DoeResult, "prompt">): boolean => prompt !== null && prompt.code in GOALS;
