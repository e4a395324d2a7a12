import type { Env } from "../../base/env.ts";
import { backoff_ms } from "./backoff.ts";
import type { Ended } from "./sender.ts";

const AFTER_LOG_MS = 2_000;
const EVERY_MS = 60_000;

type Timers = Pick<Env, "setTimer" | "clearTimer" | "random">;

/** When to try: at the start, on coming back to the front, on signal, after a log, each minute, and after a failure. */
export class Schedule {
  readonly #run: () => Promise<Ended>;
  readonly #env: Timers;
  #timer: unknown = null;
  #failures = 0;
  #visible = true;
  #stopped = true;
  #again = false;

  constructor(run: () => Promise<Ended>, env: Timers) {
    this.#run = run;
    this.#env = env;
  }

  start(): void {
    this.#stopped = false;
    void this.now();
  }

  visible(): void {
    this.#visible = true;
    void this.now();
  }

  /** No timer while hidden: a frozen page that holds the database open can hang every other page of the app. */
  hidden(): void {
    this.#visible = false;
    this.#cancel();
  }

  /** `online` is a hint to try at once, never a proof that it will work. */
  online(): void {
    this.#failures = 0;
    void this.now();
  }

  /** Logged while a run is under way: that run may have looked already, so another follows soon. */
  logged(): void {
    this.#again = true;
    if (this.#failures === 0) this.#in(AFTER_LOG_MS);
  }

  stop(): void {
    this.#stopped = true;
    this.#cancel();
  }

  async now(): Promise<Ended> {
    this.#cancel();
    this.#again = false;
    const stumbled = (error: unknown): Ended => ({ kind: "later", why: String(error), after_ms: 0 });
    const ended = await this.#run().catch(stumbled);
    this.#failures = ended.kind === "later" && ended.why !== "other_tab" ? this.#failures + 1 : 0;
    this.#in(this.#failures ? this.#wait(ended) : this.#again ? AFTER_LOG_MS : EVERY_MS);
    return ended;
  }

  #wait(ended: Ended): number {
    const asked = ended.kind === "later" ? ended.after_ms : 0;
    return Math.max(asked, backoff_ms(this.#failures, this.#env.random(1)[0]! / 255));
  }

  #in(ms: number): void {
    this.#cancel();
    if (this.#visible && !this.#stopped) this.#timer = this.#env.setTimer(() => void this.now(), ms);
  }

  #cancel(): void {
    if (this.#timer !== null) this.#env.clearTimer(this.#timer);
    this.#timer = null;
  }
}
