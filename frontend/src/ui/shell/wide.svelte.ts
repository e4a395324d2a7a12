/** From this width on a list and a page stand side by side, and there is room for a table. */
const WIDE = "(min-width: 56.25em)";
const query = matchMedia(WIDE);
/** A sheet is narrower than the screen: what stands there is what is printed. */
const paper = matchMedia("print");
let now = $state(query.matches);
const look = () => {
  if (!paper.matches) now = query.matches;
};
query.addEventListener("change", look);
paper.addEventListener("change", look);

export const wide = {
  get now(): boolean {
    return now;
  },
};
