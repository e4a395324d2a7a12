import { day } from "./day.svelte.ts";
import { noonOf } from "./hours.ts";
import { saying } from "./saying.svelte.ts";
import { session } from "./session.svelte.ts";
import type { Data, Kind, Saved, When } from "./shapes.ts";

/** What one tap writes, and what is said of it; null where each entry is spoken of by itself. */
let act: { said: string; ids: string[] } | null = null;

/** The one way of the screens to write: on the screen at once, in the phone's storage after, said at the foot. */
export function record(kind: Kind, subject: string, data: Data, when: When = {}): Saved {
  day.tapped = subject;
  const saved = session.farm!.record(kind, subject, data, timed(when));
  act?.ids.push(saved.id);
  if (when.quiet || (act && act.ids.length > 1)) saved.saved.catch(() => saying.notSaved());
  else follow(saved, "saved", act?.ids ?? [saved.id]);
  navigator.vibrate?.(15);
  return saved;
}

/** An entry about a day long past gets that day's noon; the time of the tap would be untrue. */
function timed({ on = day.slotDay, slot = day.slot, happened }: When) {
  const near = on === day.today || on === day.slotDay;
  return { on, slot, happened: happened ?? (near ? Date.now() : noonOf(on)) };
}

/** What is recorded within is one act: spoken of once, and one undo takes all of it. */
export function together(said: string, write: () => void): void {
  act = { said, ids: [] };
  try {
    day.atOnce(write);
  } finally {
    act = null;
  }
}

export function undo(...ids: string[]): void {
  const farm = session.farm!;
  if (!session.whole) return void farm.complete().then(() => undo(...ids));
  const undone: Saved[] = [];
  day.atOnce(() => ids.forEach((id) => undone.push(farm.undo(id))));
  for (const { saved } of undone.slice(1)) saved.catch(() => saying.notSaved());
  follow(undone[0]!, "undone", []);
}

function follow(saved: Saved, key: string, ids: string[]): void {
  const event = ids.length ? session.farm!.event(saved.id) : undefined;
  saying.follow(saved, { key, event, said: act?.said ?? "", undo: ids });
}
