import { place_key } from "../../core/state/planned.ts";
import { changes_of, type Act, type ActLine } from "../../core/outlook/acts/shapes.ts";
import { waits } from "../../core/barn/helper_waits.ts";
import { write } from "../forms/write.ts";
import { changed } from "../../core/outlook/gates/change.ts";
import { day } from "../model/day.svelte.ts";
import { together } from "../model/record.ts";
import { session } from "../model/session.svelte.ts";
import { stands } from "../model/stands.ts";
import type { Data } from "../model/shapes.ts";
import { ownerName } from "../model/owner.ts";
import { t } from "../words/text.ts";
import { pen_said, title, type Moved } from "./words.ts";

/** Puts an act into the plan: one entry a line, spoken of once, and one undo takes all. `first`: what goes with it. */
export function adopt(act: Act, first = (): void => {}): void {
  together(t("act.done", { name: day.named(act.subject), act: title(act) }), () => {
    first();
    if (act.moves) move(act.moves, act.lines[0]!.steps[0]![0]);
    for (const line of act.lines) {
      const { subject, slot, feed } = line;
      const base = day.view.rations[place_key(subject, slot, feed)]?.hlc ?? "";
      write("ration", subject, { ...entry(act, line), base });
    }
  });
}

/** The tap decides it, so that what is said of her pen later stands. */
export function move(to: Moved, on: string): void {
  if (!day.view.pens[to.pen]) write("pen", to.pen, { f: { name: pen_said(to) }, base: { name: "" } });
  write("moved", to.doe, { pen: to.pen }, { on, slot: "", happened: Date.now() });
}

/** What a helper may not set is asked for whole, and waits: half an act would be another one. */
export function wish(act: Act): void {
  together(t("act.asked", { owner: ownerName(), name: day.named(act.subject) }), () => {
    for (const line of act.lines) {
      const pen = line.moves ? line.subject : "";
      write("wish", line.moves ?? line.subject, { ...entry(act, line), reason: "", pen });
    }
  });
}

/** A line with the act that brings it and what it promises. */
function entry({ code, brings }: Act, { to, slot, feed, steps }: ActLine): Data {
  return { to, slot, feed, steps: steps.map(([on, g]) => ({ on, g })), act: code, ...brings };
}

/** As the server judges one entry after the other: a raise, or a late doe's cut. */
export function needs_owner({ lines, moves }: Act): boolean {
  if (stands(...changes_of(lines))) return true;
  if (session.plans || moves) return !session.plans;
  let { view } = day;
  return changes_of(lines).some((change) => {
    const held = waits(view, change);
    view = { ...view, rations: { ...view.rations, ...changed(view.rations, change) } };
    return held !== "";
  });
}

/** She asked for it already, and nobody has answered. */
export function is_asked({ code, lines }: Act): boolean {
  const mine = day.view.wishes.filter(({ author, declined }) => author === session.farm?.person && !declined);
  return lines.every((line) =>
    mine.some(({ act, subject, pen, slot, feed }) =>
      act === code && (pen || subject) === line.subject && slot === line.slot && feed === line.feed),
  );
}
