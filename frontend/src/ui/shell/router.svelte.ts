/**
 * Hash router: the path after "#/" split at slashes. The worker answers every path with the shell, so only the hash
 * moves.
 */
const read = () => location.hash.replace(/^#\/?/, "").split("/").map(decodeURIComponent);

let parts = $state.raw(read());
let moves = $state(0);
// Going "up" after saving must not leave the spent form one step behind the back button.
let trail: string[] = [location.hash];
let from: string[] = [];

addEventListener("hashchange", () => {
  [from, parts] = [parts, read()];
  moves += 1;
  const before = trail.lastIndexOf(location.hash);
  trail = before >= 0 ? trail.slice(0, before + 1) : [...trail, location.hash];
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
};

export function to(...path: string[]): string {
  return `#/${path.map(encodeURIComponent).join("/")}`;
}

export function go(hash: string): void {
  location.hash = hash;
}

/** Leaves a finished form: back if that is where the person came from, else on to the given place. */
export function leave(hash: string): void {
  if (trail.length > 1 && trail.at(-2) === hash) history.back();
  else location.replace(hash);
}
