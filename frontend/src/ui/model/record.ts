import { BadEvent } from "../../core/events/bad_event.ts";
import { dropDraft } from "../shell/drafts.ts";
import { day } from "./day.svelte.ts";
import { noonOf } from "./hours.ts";
import { saying } from "./saying.svelte.ts";
import { session } from "./session.svelte.ts";
import type { Data, Kind, Saved, When } from "./shapes.ts";

/** Where the records of a kind stand in the view, of those of which some fields are kept. */
const PLACES: Partial<Record<Kind, "does" | "pens" | "lots" | "shelf">> = {
  doe: "does", pen: "pens", lot: "lots", shelf: "shelf",
};
/** What one tap writes, and what is said of it; null where each entry is spoken of by itself. */
let act: { said: string; ids: string[] } | null = null;

/** The one way of the screens to write: on the screen at once, in the phone's storage after, said at the foot. */
export function record(kind: Kind, subject: string, data: Data, when: When = {}): Saved {
  refuse(kind, subject, data);
  day.tapped = subject;
  const saved = session.farm!.record(kind, subject, data, timed(when));
  act?.ids.push(saved.id);
  if (when.quiet || (act && act.ids.length > 1)) saved.saved.catch(() => saying.notSaved());
  else follow(saved, "saved", act?.ids ?? [saved.id]);
  dropDraft();
  navigator.vibrate?.(15);
  return saved;
}

/** What the farm's server would send back is not taken here either: said before anything is written. */
function refuse(kind: Kind, subject: string, data: Data): void {
  const kept = Object.keys((data["f"] ?? {}) as Data).find((name) => !session.mayChange(kind, name));
  if (session.may(kind) && !kept) return;
  // The farm is not added up for every tap.
  if (session.may(kind) && !Object.hasOwn(session.farm!.view[PLACES[kind] ?? "feeds"], subject)) return;
  saying.only(session.role === "adviser" ? "may.adviser" : "may.ask");
  throw new BadEvent({ code: "not_yours", field: kept ? `f.${kept}` : "" });
}

/** An entry about a day long past gets that day's noon; the time of the tap would be untrue. */
function timed({ on = day.slotDay, slot = day.slot, happened }: When) {
  const near = on === day.today || on === day.slotDay;
  return { on, slot, happened: happened ?? (near ? Date.now() : noonOf(on)) };
}

/**
 * What is recorded within is one act: spoken of once, and one undo takes all of it. `first`: what is painted before
 * all lists are worked out again.
 */
export function together(said: string, write: () => void, first?: () => void): void {
  act = { said, ids: [] };
  try {
    session.atOnce(write, first);
  } finally {
    act = null;
  }
}

export function undo(...ids: string[]): void {
  const farm = session.farm!;
  if (!session.whole) return void farm.complete().then(() => undo(...ids));
  takeBack(ids, "undone");
}

/** What was taken back counts again: the taking back is taken back. */
export function putBack(...ids: string[]): void {
  takeBack(ids.flatMap((id) => day.view.voided[id] ?? []), "restored");
}

function takeBack(ids: string[], key: "undone" | "restored"): void {
  const back: Saved[] = [];
  session.atOnce(() => ids.forEach((id) => back.push(session.farm!.undo(id))));
  for (const { saved } of back.slice(1)) saved.catch(() => saying.notSaved());
  if (back[0]) follow(back[0], key, key === "undone" ? ids : []);
}

function follow(saved: Saved, key: string, ids: string[]): void {
  const event = ids.length ? session.farm!.event(saved.id) : undefined;
  saying.follow(saved, { key, event, said: act?.said ?? "", undo: ids });
}
