import type { Env } from "../../base/env.ts";

const WAIT_MS = 15_000;

/**
 * A data file of the app's own, from the service worker's cache or, before there is one, from the server; else null.
 */
export async function dataFile(env: Pick<Env, "fetch" | "setTimer" | "clearTimer">, url: string): Promise<unknown> {
  const stop = new AbortController();
  const timer = env.setTimer(() => stop.abort(), WAIT_MS);
  try {
    const reply = await env.fetch(url, { signal: stop.signal });
    return reply.ok ? await reply.json() : null;
  } catch {
    return null;
  } finally {
    env.clearTimer(timer);
  }
}
