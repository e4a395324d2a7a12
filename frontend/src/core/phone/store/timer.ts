import type { Env } from "../../base/env.ts";
import { StoreError } from "./errors.ts";

export type Timers = Pick<Env, "setTimer" | "clearTimer">;

export const CALL_MS = 5_000;

/** A phone can freeze its database without an error, so nothing is awaited without an end. */
export async function withinTime<T>(work: Promise<T>, ms: number, timers: Timers): Promise<T> {
  let timer: unknown;
  const late = new Promise<never>((_, reject) => {
    timer = timers.setTimer(() => reject(new StoreError("timeout")), ms);
  });
  try {
    return await Promise.race([work, late]);
  } finally {
    timers.clearTimer(timer);
  }
}
