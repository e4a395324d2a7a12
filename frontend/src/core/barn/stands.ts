import { changed, keys_of, type Change } from "../outlook/gates/change.ts";
import { amount_on } from "../state/rations.ts";
import type { Step, View } from "../state/view.ts";
import { packs, type Pack } from "./packs.ts";

/**
 * Until when what is planned is the owner's alone to change, because the change reaches into the dates of a sitter's
 * pack; "" where it does not. As the server judges it: herd/services/stands.py.
 */
export function stands_until(view: View, change: Change): string {
  const after = changed(view.rations, change);
  const moved = ({ from_on, to_on }: Pack) =>
    keys_of(change).some((key) => differ(view.rations[key]?.steps ?? [], after[key]?.steps ?? [], from_on, to_on));
  return packs(view).filter(moved).map(({ to_on }) => to_on).sort().at(-1) ?? "";
}

function differ(before: Step[], after: Step[], first: string, last: string): boolean {
  const dates = [...before, ...after].map(([on]) => on).filter((on) => on > first && on <= last);
  return first <= last && [first, ...dates].some((on) => amount_on(before, on) !== amount_on(after, on));
}
