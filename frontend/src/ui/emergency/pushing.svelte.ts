const KEY = "mangerline.pushing";
const MIN_MS = 60_000;

interface Kept {
  at: number;
  doe: string;
  /** Whether it counts from a kid that came, and not from her pushing. */
  kid: boolean;
}

const NOBODY: Kept = { at: 0, doe: "", kid: false };

/** Nothing is thrown where nobody pushes: an error at the start makes an engine read all of the script again. */
function read(): Kept {
  const kept = localStorage.getItem(KEY);
  if (!kept) return NOBODY;
  try {
    const { at, doe, kid } = JSON.parse(kept) as Kept;
    return { at: Number(at) || 0, doe: String(doe), kid: Boolean(kid) };
  } catch {
    return NOBODY;
  }
}

/** Since when she pushes hard. The phone may be put away, reloaded or run flat: the start is kept, not the count. */
class Pushing {
  #kept = $state.raw(read());

  get at(): number {
    return this.#kept.at;
  }
  get doe(): string {
    return this.#kept.doe;
  }
  get kid(): boolean {
    return this.#kept.kid;
  }
  start(doe: string, kid = false, at = Date.now()): void {
    this.#keep({ at, doe, kid });
  }
  tell(doe: string): void {
    this.#keep({ at: this.at, doe, kid: this.kid });
  }
  #keep(kept: Kept): void {
    this.#kept = kept;
    localStorage.setItem(KEY, JSON.stringify(kept));
  }
  stop(): void {
    this.#kept = NOBODY;
    localStorage.removeItem(KEY);
  }
}

export const pushing = new Pushing();
export const minutes = (from: number, now: number) => Math.max(0, Math.floor((now - from) / MIN_MS));
/** "07:05" */
export function clockFace(from: number, now: number): string {
  const seconds = Math.max(0, Math.floor((now - from) / 1000));
  return [Math.floor(seconds / 60), seconds % 60].map((part) => String(part).padStart(2, "0")).join(":");
}
