import { beforeMove, route } from "./router.svelte.ts";

/** How far down a page somebody was, and which folds were open, by the number of its entry in the history. */
interface Place {
  y: number;
  open: string[];
}

const KEY = "mangerline.places";
const FRAMES = 300;
const kept = read();
/** A list somebody comes back to by its tab stands where she left it. */
const lists = new Map<string, Place>();
const LISTS = ["", "does"];

function read(): Record<number, Place> {
  try {
    return JSON.parse(sessionStorage.getItem(KEY) || "{}") as Record<number, Place>;
  } catch {
    return {};
  }
}
const here = (): Place => (kept[route.at] ??= { y: 0, open: [] });
const called = (fold: HTMLDetailsElement) => fold.querySelector("summary")?.textContent.trim() ?? "";

export function keepPlaces(): void {
  // a scroll is told of a frame late, and the page may be left by then
  beforeMove(() => (here().y = scrollY));
  addEventListener("scroll", () => (here().y = scrollY), { passive: true });
  document.addEventListener("toggle", ({ target }) => {
    if (!(target instanceof HTMLDetailsElement) || !target.closest("main")) return;
    const name = called(target);
    here().open = [...here().open.filter((one) => one !== name), ...(target.open ? [name] : [])];
  }, { capture: true });
  addEventListener("pagehide", () => {
    try {
      sessionStorage.setItem(KEY, JSON.stringify(kept));
    } catch {
      // a phone that keeps nothing for a page opens it at its top
    }
  });
}

/** After a move: as it was left for whoever comes back, at its top for whoever comes anew. False where it is new. */
export function takePlace(): boolean {
  const list = LISTS.includes(route.parts.join("/")) ? route.parts.join("/") : null;
  const leftFor = LISTS.find((one) => one === route.from.join("/"));
  const before = kept[route.at - 1];
  if (leftFor !== undefined && before && !route.isBack) lists.set(leftFor, before);
  const place = route.isBack ? kept[route.at] : list !== null && route.from[0] === "doe" ? lists.get(list) : undefined;
  if (!place) {
    delete kept[route.at];
    scrollTo(0, 0);
    return false;
  }
  kept[route.at] = place;
  restore({ y: place.y, open: [...place.open] });
  return true;
}

/** A page is drawn in parts: it is scrolled as soon as it is long enough, unless a finger has moved it first. */
function restore({ y, open }: Place): void {
  const move = route.moves;
  let [left, touched] = [FRAMES, false];
  const stop = () => (touched = true);
  addEventListener("pointerdown", stop, { once: true });
  addEventListener("wheel", stop, { once: true });
  const frame = () => {
    if (touched || move !== route.moves) return;
    for (const fold of document.querySelectorAll<HTMLDetailsElement>("main details:not([open])"))
      if (open.includes(called(fold))) fold.open = true;
    scrollTo(0, y);
    if (Math.abs(scrollY - y) > 1 && (left -= 1) > 0) requestAnimationFrame(frame);
  };
  frame();
}
