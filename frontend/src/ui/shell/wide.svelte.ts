/** From this width on a list and a page stand side by side, and there is room for a table. */
const WIDE = "(min-width: 56.25em)";
const query = matchMedia(WIDE);
let now = $state(query.matches);
query.addEventListener("change", ({ matches }) => (now = matches));

export const wide = {
  get now(): boolean {
    return now;
  },
};
