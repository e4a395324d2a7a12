import type { Envelope } from "../events/events.ts";
import { text, whole } from "../events/values.ts";
import type { HandOver, KidWeight, KitUse, TaskWord } from "./view.ts";

/** The year's tasks, the nights and kids that grow, as the view keeps them. Twin of herd/state/year.py. */
export function kid_weight_of({ id: ev, subject, on, happened, author, data }: Envelope): KidWeight {
  return { ev, subject, on, happened, author, g: whole(data, "g") };
}

export function kit_use_of({ id: ev, subject, on, happened, author, hlc, data }: Envelope): KitUse {
  return { ev, subject, on, happened, author, hlc, n: whole(data, "n") };
}

/** What became of a task: done, moved to a day, skipped, or open again. */
export function task_of({ id: ev, subject, on, happened, author, data }: Envelope): TaskWord {
  const [task, key, what] = [text(data, "task"), text(data, "key"), text(data, "what")];
  return { ev, subject, on, happened, author, task, key, what, to_on: text(data, "to_on"), why: text(data, "why") };
}

/** Who looks at night from then on, and the line that was left for her. */
export function hand_over_of({ id: ev, on, happened, author, data }: Envelope): HandOver {
  return { ev, on, happened, author, to: text(data, "to"), word: text(data, "word") };
}
