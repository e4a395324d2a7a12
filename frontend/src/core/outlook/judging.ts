/** What judges: the second script brings it, and nothing the first picture of a farm is drawn from may import it. */
export { Evaluation } from "./whole/evaluation.ts";
export { manger_line } from "./verdict/season.ts";
