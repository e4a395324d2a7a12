import { CONCENTRATE, FORAGE, LEGUME } from "../../tables/codes.ts";

/** Which feeds count as forage and which as grain. */
export function is_forage(feed: { class: string } | null): boolean {
  return feed !== null && FORAGE.includes(feed.class);
}

/** A feed that counts toward grain limits; a feed nobody has described is none. */
export function is_grain(feed: { class: string } | null): boolean {
  return feed !== null && CONCENTRATE.includes(feed.class);
}

/** Grain, or a feed nobody has said the class of. */
export function might_be_grain(feed: { class: string } | null): boolean {
  return !feed?.class || is_grain(feed);
}

/** Legume hay, or hay with legume in it. */
export function is_legume(feed: { class: string } | null): boolean {
  return feed !== null && LEGUME.includes(feed.class);
}
