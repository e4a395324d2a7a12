import type { Doe } from "./view.ts";

/** Does where they stand on a date, whatever move is still to come; the same object where none is. */
export function placed_on(does: Record<string, Doe>, on: string): Record<string, Doe> {
  const to_come = Object.values(does).filter((doe) => doe.pen !== pen_on(doe, on));
  if (!to_come.length) return does;
  return { ...does, ...Object.fromEntries(to_come.map((doe) => [doe.id, { ...doe, pen: pen_on(doe, on) }])) };
}

/** The pen she was in on a date: the last move on or before it. */
export function pen_on(doe: Doe, on: string): string {
  let pen = "";
  for (const [moved_on, where] of doe.moves) if (moved_on <= on) pen = where;
  return pen;
}
