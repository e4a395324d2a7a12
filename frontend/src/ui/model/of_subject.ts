import type { Picture, Voice } from "../../core/state/media.ts";
import type { View } from "../../core/state/view.ts";

/** Pictures and recordings of one doe or thing, the newest first. */
export function ofSubject(view: View, id: string): (Picture | Voice)[] {
  const own = [...view.pictures, ...view.voices].filter(({ subject }) => subject === id);
  return own.sort((a, b) => b.happened - a.happened);
}

export function latest(view: View, id: string, what: string): Picture | undefined {
  return view.pictures.findLast((picture) => picture.subject === id && picture.what === what);
}
