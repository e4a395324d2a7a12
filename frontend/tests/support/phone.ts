import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { browserEnv, type Env } from "../../src/core/base/env.ts";
import { Dice } from "./random.ts";

export const START_MS = Date.UTC(2026, 10, 2, 6, 0, 0);

/** A phone for tests: its own storage, its own clock, its own dice, and whatever network it is given. */
export class TestPhone {
  readonly dice: Dice;
  factory = new IDBFactory();
  now_ms = START_MS;
  network: Env["fetch"] = () => Promise.reject(new TypeError("no signal"));
  gzip: Env["gzip"] = null;
  marks = "";
  hand = "";
  /** The page goes: everything that is told so, in that moment. */
  readonly goes = new Set<() => void>();

  constructor(seed = 1) {
    this.dice = new Dice(seed);
  }

  env(over: Partial<Env> = {}): Env {
    return {
      now: () => this.now_ms,
      random: (bytes) => this.dice.bytes(bytes),
      fetch: (url, init) => this.network(url, init),
      indexedDB: this.factory,
      setTimer: (run, ms) => setTimeout(run, ms).unref(),
      clearTimer: (timer) => clearTimeout(timer as NodeJS.Timeout),
      locks: null,
      channel: null,
      gzip: this.gzip,
      rest: () => Promise.resolve(),
      drawn: () => Promise.resolve(),
      persist: null,
      pbkdf2: browserEnv().pbkdf2,
      marks: { read: () => this.marks, write: (text) => void (this.marks = text) },
      hand: {
        read: () => this.hand, write: (_at, text) => void (this.hand = text),
        going: (run) => {
          this.goes.add(run);
          return () => void this.goes.delete(run);
        },
      },
      ...over,
    };
  }
}
