import type { Env } from "../../base/env.ts";
import { backoff_ms } from "./backoff.ts";
import type { Ended } from "./ended.ts";

const AFTER_LOG_MS = 2_000;
const EVERY_MS = 60_000;
const MADE_MS = 2_000;

type Timers = Pick<Env, "setTimer" | "clearTimer" | "random">;

/** When to try: at the start, on coming back to the front, on signal, after a log, each minute, and after a failure. */
export class Schedule {
  readonly #run: () => Promise<Ended>;
  readonly #env: Timers;
  #timer: unknown = null;
  #failures = 0;
  #visible = true;
  #stopped = true;
  #underway: Promise<Ended> | null = null;
  #again = false;
  /** The server has asked for a pause: no tap cuts it short. */
  #held = false;
  /** How often in a row it was said that outlooks are being made. */
  #asked = 0;

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
    this.#asked = 0;
    if (this.#failures === 0 && !this.#held) this.#in(AFTER_LOG_MS);
  }

  stop(): void {
    this.#stopped = true;
    this.#cancel();
  }

  /** By somebody's tap. A run that is under way may have looked before it: another follows soon. */
  asked(): Promise<Ended> {
    if (this.#underway) this.#again = true;
    return this.now();
  }

  /** The run that is under way, or one of its own. */
  now(): Promise<Ended> {
    return (this.#underway ??= this.#once().finally(() => (this.#underway = null)));
  }

  async #once(): Promise<Ended> {
    this.#cancel();
    this.#again = false;
    const stumbled = (error: unknown): Ended => ({ kind: "later", why: String(error), after_ms: 0 });
    const ended = await this.#run().catch(stumbled);
    const other_tab = ended.kind === "later" && ended.why === "other_tab";
    const failed = ended.kind === "later" && !other_tab;
    this.#held = failed && ended.why === "busy" && ended.after_ms > 0;
    if (!this.#held) this.#failures = failed ? this.#failures + 1 : 0;
    this.#asked = ended.kind === "done" && ended.due ? this.#asked + 1 : 0;
    // The page this one was opened in place of may be the other: what it left is not to wait out a minute.
    this.#in(failed ? this.#wait(ended) : other_tab ? AFTER_LOG_MS : this.#next());
    return ended;
  }

  /** Outlooks being made are asked for soon, then less and less often. */
  #next(): number {
    if (this.#again) return AFTER_LOG_MS;
    return this.#asked ? Math.min(EVERY_MS, MADE_MS * 2 ** (this.#asked - 1)) : EVERY_MS;
  }

  /** A server with its hands full says for how long; up to half as long again, for all whom it told the same. */
  #wait(ended: Extract<Ended, { kind: "later" }>): number {
    const chance = this.#env.random(1)[0]! / 255;
    return this.#held ? Math.round(ended.after_ms * (1 + chance / 2)) : this.#longer(ended.after_ms, chance);
  }

  #longer(asked: number, chance: number): number {
    return Math.max(asked, backoff_ms(this.#failures, chance));
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
