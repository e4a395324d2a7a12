/** Which classes of feed count as forage and which as grain. */
export const FORAGE = new Set(["legume", "grass", "mixed"]);
const CONCENTRATE = new Set(["grain", "protein", "byproduct", "fat", "fodder"]);

/** A feed that counts toward grain limits; a feed nobody has described is none. */
export function is_grain(feed: { class: string } | null): boolean {
  return feed !== null && CONCENTRATE.has(feed.class);
}
