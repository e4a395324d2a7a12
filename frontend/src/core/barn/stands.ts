import type { Envelope } from "../events/events.ts";
import { VERSIONS } from "../events/kinds.ts";
import { changed, keys_of, type Change } from "../outlook/gates/change.ts";
import { isLink } from "../state/chains.ts";
import { fold } from "../state/fold.ts";
import { amount_on } from "../state/planned.ts";
import type { Step, View } from "../state/view.ts";
import { packs } from "./packs.ts";

type Rations = View["rations"];

/**
 * Until when what is planned is the owner's alone to change, because the change reaches into the dates of a sitter's
 * pack; "" where it does not. As the server judges it: herd/services/stands.py.
 */
export function stands_until(view: View, change: Change): string {
  return until(view, view.rations, changed(view.rations, change), keys_of(change));
}

const OF_PLAN = ["doe", "pen", "ration"];
/** After all there is. */
const LAST = "~";

/** The same where these entries are taken back, all at once; of one that takes something back, that counts again. */
export function back_stands_until(view: View, log: Envelope[], ids: string[]): string {
  const targets = log.filter(({ id }) => ids.includes(id));
  const subjects = new Set(targets.map(({ subject }) => subject));
  const own = log.filter((event) => subjects.has(event.subject) && (isLink(event) || OF_PLAN.includes(event.kind)));
  const links = targets.map((event): Envelope => ({
    ...event, id: LAST + event.id, kind: "void", v: VERSIONS.void, hlc: LAST, data: { of: event.id },
  }));
  const [was, now] = [fold(own).rations, fold([...own, ...links]).rations];
  return until(view, was, now, Object.keys({ ...was, ...now }));
}

function until(view: View, was: Rations, now: Rations, keys: string[]): string {
  const steps = (rations: Rations, key: string) => rations[key]?.steps ?? [];
  const moved = packs(view).filter(({ from_on, to_on }) =>
    keys.some((key) => differ(steps(was, key), steps(now, key), from_on, to_on)),
  );
  return moved.map(({ to_on }) => to_on).sort().at(-1) ?? "";
}

function differ(before: Step[], after: Step[], first: string, last: string): boolean {
  const dates = [...before, ...after].map(([on]) => on).filter((on) => on > first && on <= last);
  return first <= last && [first, ...dates].some((on) => amount_on(before, on) !== amount_on(after, on));
}
