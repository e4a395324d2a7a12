/** How things stand with keeping the screen on: "" while nobody asks for it. */
export type Awake = "" | "on" | "refused" | "unsupported";
type Locks = Pick<WakeLock, "request">;

/**
 * Keeps the screen on while it is wanted and the page is in sight. The browser lets go by itself when the page is
 * hidden.
 */
export class ScreenLock {
  readonly #locks: Locks | undefined;
  readonly #changed: (state: Awake) => void;
  #held: WakeLockSentinel | null = null;
  #asking = false;
  #wanted = false;

  constructor(locks: Locks | undefined, changed: (state: Awake) => void) {
    [this.#locks, this.#changed] = [locks, changed];
  }

  want(wanted: boolean): void {
    this.#wanted = wanted;
    if (wanted) return void this.#take();
    void this.#held?.release().catch(() => undefined);
    this.#held = null;
    this.#changed("");
  }

  /** Back in sight: what the browser let go of is asked for again. */
  seen(): void {
    if (this.#wanted) void this.#take();
  }

  async #take(): Promise<void> {
    if (!this.#locks) return this.#changed("unsupported");
    if (this.#held || this.#asking) return;
    this.#asking = true;
    try {
      this.#keep(await this.#locks.request("screen"));
    } catch {
      // A hidden page, or a phone that saves its battery.
      this.#changed("refused");
    }
    this.#asking = false;
  }

  #keep(held: WakeLockSentinel): void {
    if (!this.#wanted) return void held.release().catch(() => undefined);
    this.#held = held;
    held.addEventListener("release", () => {
      if (this.#held === held) this.#held = null;
    });
    this.#changed("on");
  }
}
