/**
 * What the second script brings to a farm on this phone: the fold, what judges, what is checked and what is sent.
 * Nothing the first picture of a farm is drawn from, or a tap on it is stored with, may import it.
 */
export { Evaluation } from "../outlook/whole/evaluation.ts";
export { manger_line } from "../outlook/verdict/season.ts";
export { problem_of } from "../events/payloads.ts";
export { readable } from "../events/readable.ts";
export { extended, latest_of } from "../state/extend.ts";
export { fold, folding } from "../state/fold.ts";
export { PhoneSharers } from "./phone_sharers.ts";
export { Sender } from "./sync/sender.ts";
export { tidy, unread_counts, unreadOf } from "./unread.ts";
