/** The core's shapes under the names the screens use. */
export type { Data, Envelope, Json } from "../../core/events/events.ts";
export type { Kind, Slot } from "../../core/events/kinds.ts";
export type {
  Doe, Feeding, Fields, Intake, Line as FeedLine, RecordRow, Question, Ration, Step, View, Wish,
} from "../../core/state/view.ts";
import type { Data } from "../../core/events/events.ts";
import type { Kind, Slot } from "../../core/events/kinds.ts";

export interface When {
  on?: string;
  slot?: Slot;
  happened?: number;
  /** Part of a larger act whose first entry is the one spoken of at the foot of the screen. */
  quiet?: boolean;
}
export interface Saved {
  id: string;
  saved: Promise<void>;
}
export type Write = (kind: Kind, subject: string, data: Data, when?: When) => Saved;
