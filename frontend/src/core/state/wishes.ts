import type { Envelope } from "../events/events.ts";
import { rows, text, whole } from "../events/values.ts";
import { clean_steps } from "./rations.ts";
import type { Wish } from "./view.ts";

/**
 * Rations wanted by somebody who may not set them, in stamp order: each waits until it is let in or declined. Twin of
 * herd/state/wishes.py.
 */
export function wishes_of(stamped: Envelope[]): Wish[] {
  const wanted = stamped.filter(({ kind, data }) => kind === "wish" && rows(data, "steps").length);
  if (wanted.length === 0) return [];
  const of = (kind: string) => stamped.filter((event) => event.kind === kind);
  const let_in = new Set(of("ration").map(({ subject, data }) => `${subject}|${text(data, "wish")}`));
  const declined = new Map(of("decline").map((event) => [text(event.data, "of"), event]));
  return wanted
    // hers or her feeder's, or that of the pen she is moved to for it
    .filter(({ subject, id, data }) => !let_in.has(`${text(data, "pen") || subject}|${id}`))
    .map((event) => wish_of(event, declined.get(event.id)));
}

function wish_of({ id: ev, subject, on, happened, author, data }: Envelope, answer: Envelope | undefined): Wish {
  const [slot, feed, reason] = [text(data, "slot"), text(data, "feed"), text(data, "reason")];
  const declined = answer ? { ev: answer.id, by: answer.author, word: text(answer.data, "word") } : null;
  const promised = { of: text(data, "of"), from_pm: whole(data, "from_pm"), to_pm: whole(data, "to_pm") };
  const by = { act: text(data, "act"), ...promised, by_on: text(data, "by_on"), pen: text(data, "pen") };
  const steps = clean_steps(rows(data, "steps"));
  return { ev, subject, on, happened, author, slot, feed, reason, ...by, steps, declined };
}
