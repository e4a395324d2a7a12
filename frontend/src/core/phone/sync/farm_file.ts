import type { Env } from "../../base/env.ts";
import { failed, MARKER, type Failure } from "./http.ts";

/** A farm of years takes the server a minute, and a weak signal some more. */
const FILE_MS = 10 * 60_000;

type FileEnv = Pick<Env, "fetch" | "setTimer" | "clearTimer">;
export type FileReply = { ok: true; file: Blob } | { ok: false; failure: Failure };

/** The whole farm as a file: the one answer that is no JSON. */
export async function farmFile(env: FileEnv, farm: string, password: string, csrf: string): Promise<FileReply> {
  const stop = new AbortController();
  const timer = env.setTimer(() => stop.abort(), FILE_MS);
  try {
    const response = await env.fetch(`/api/farms/${farm}/export`, {
      method: "POST", body: JSON.stringify({ password }), signal: stop.signal,
      headers: { "Content-Type": "application/json", "X-CSRFToken": csrf },
      credentials: "same-origin", cache: "no-store", redirect: "error",
    });
    if (response.headers.get(MARKER) !== "1") return failed("not_ours");
    if (response.ok) return { ok: true, file: await response.blob() };
    const body = (await response.json()) as { code?: unknown };
    return { ok: false, failure: { kind: "refused", after_ms: 0, code: String(body.code ?? "") } };
  } catch {
    return failed("no_answer");
  } finally {
    env.clearTimer(timer);
  }
}
