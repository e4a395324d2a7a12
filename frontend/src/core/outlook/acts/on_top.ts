import { place_key } from "../../state/planned.ts";
import { ahead_of } from "./forward.ts";
import { barn_of, type Barn } from "./barn.ts";
import type { Rung } from "./rungs.ts";
import type { ActLine } from "./shapes.ts";

/** Rungs tried on top of a change that by itself does not do it: both are one act. */
export function on_top(barn: Barn, first: ActLine[], ladder: (barn: Barn) => Rung[]): Rung[] {
  const { ctx, unit, id, of } = barn;
  const then = barn_of(ahead_of(ctx, unit, first).planned, unit, id, of);
  const rungs = then ? ladder({ ...then, hand: barn.hand }) : [];
  return rungs.map((rung) => ({ ...rung, lines: (n) => merged(first, rung.lines(n)) }));
}

/** A later line for the same place takes the place of an earlier one from its first day on. */
export function merged(lines: ActLine[], more: ActLine[]): ActLine[] {
  const key = ({ subject, slot, feed }: ActLine) => place_key(subject, slot, feed);
  const before = new Map(lines.map((line) => [key(line), line]));
  const anew = new Set(more.map(key));
  const kept = lines.filter((line) => !anew.has(key(line)));
  return [...kept, ...more.map((line): ActLine => {
    const held = before.get(key(line));
    const earlier = held?.steps.filter(([on]) => on < line.steps[0]![0]) ?? [];
    return held ? { ...line, from_g: held.from_g, steps: [...earlier, ...line.steps] } : line;
  })];
}
