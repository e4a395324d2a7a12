/**
 * Hash router: the path after "#/" split at slashes. The worker answers every path with the shell, so only the hash
 * moves. Each page is an entry of the browser's history, numbered in its state, and so is a sheet over a page: Back,
 * the arrow at the head and the phone's own gesture do the same.
 */
interface Entry {
  at: number;
  sheet?: boolean;
}

/** What was typed into the address by hand may be no text at all: it is no page of ours then, and says so. */
function part(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}
const read = () => location.hash.replace(/^#\/?/, "").split("/").map(part);
const entry = (): Entry | null => history.state as Entry | null;

let parts = $state.raw(read());
let moves = $state(0);
let at = entry()?.at ?? 0;
// Going "up" after saving must not leave the spent form one step behind the back button.
let trail: string[] = [location.hash];
let from: string[] = [];
let back = false;
let replacing = false;
let onLeave: () => void = () => undefined;
let onSheetGone: (() => void) | null = null;

history.scrollRestoration = "manual";
if (!entry()) history.replaceState({ at }, "");

addEventListener("hashchange", () => {
  onLeave();
  [from, parts] = [parts, read()];
  const known = entry()?.at;
  back = known !== undefined;
  at = known ?? (replacing ? at : at + 1);
  if (!back) history.replaceState({ at }, "");
  replacing = false;
  onSheetGone = null;
  const before = trail.lastIndexOf(location.hash);
  trail = before >= 0 ? trail.slice(0, before + 1) : [...trail, location.hash];
  moves += 1;
});
addEventListener("popstate", () => {
  if (entry()?.sheet) return;
  onSheetGone?.();
  onSheetGone = null;
});

export const route = {
  get parts(): string[] {
    return parts;
  },
  /** Where the person was before. */
  get from(): string[] {
    return from;
  },
  get moves(): number {
    return moves;
  },
  /** The number of this entry in the walk through the app. */
  get at(): number {
    return at;
  },
  /** She came by Back or Forward: the page stands as it was left. */
  get isBack(): boolean {
    return back;
  },
};

/** Called before each move, while the page that is left still stands. */
export function beforeMove(left: () => void): void {
  onLeave = left;
}

export function to(...path: string[]): string {
  return `#/${path.map(encodeURIComponent).join("/")}`;
}

export function go(hash: string): void {
  location.hash = hash;
}

function replace(hash: string): void {
  if (hash === location.hash) return;
  replacing = true;
  location.replace(hash);
}

/** Leaves a finished form: back if that is where the person came from, else on to the given place. */
export function leave(hash: string): void {
  if (trail.length > 1 && trail.at(-2) === hash) history.back();
  else replace(hash);
}

/** The arrow: where Back goes; to the page above where there is nothing to go back to. */
export function goBack(above: string): void {
  if (at > 0) history.back();
  else replace(above);
}

/** A sheet lies over the page: Back takes it away, and nothing else. */
export function overlay(gone: () => void): void {
  history.pushState({ at, sheet: true }, "");
  onSheetGone = gone;
}

/** The sheet is done with: back to the page under it, or on to another in its place. */
export function offOverlay(next?: string): void {
  onSheetGone = null;
  if (!entry()?.sheet) {
    if (next) go(next);
    return;
  }
  if (!next || next === location.hash) return history.back();
  at += 1;
  replace(next);
}
