import type { Env } from "../../base/env.ts";

export const MARKER = "X-Mangerline";
export const CALL_MS = 25_000;
const NOTHING_TO_SAY = 204;

export type FailureKind =
  | "no_answer" | "not_ours" | "busy" | "server_error" | "sign_in" | "csrf" | "not_member" | "epoch" | "too_large"
  | "unreadable" | "refused" | "removed" | "proof" | "turn";

/**
 * `kind`: "turn" where another one is on from this browser by now, and nothing was sent. `code` is the server's own
 * word, for the screens that ask for something themselves.
 */
export interface Failure {
  kind: FailureKind;
  after_ms: number;
  code: string;
  /** All it said, for whoever wants to know which field is wrong. */
  body?: unknown;
}

export type Reply = { ok: true; status: number; body: unknown } | { ok: false; failure: Failure };

export interface Call {
  method: "GET" | "POST" | "PUT" | "PATCH" | "DELETE";
  path: string;
  body?: string | Uint8Array<ArrayBuffer>;
  gzipped?: boolean;
  /** What the body is, where it is no JSON. */
  type?: string;
  /** The answer is a file, unless it is an error. */
  file?: boolean;
  csrf?: string;
  limit_ms?: number;
}

type HttpEnv = Pick<Env, "fetch" | "setTimer" | "clearTimer">;

/** One request with an end: a weak signal can hold a connection open for ever, in the headers or in the body. */
export async function call(env: HttpEnv, request: Call): Promise<Reply> {
  const stop = new AbortController();
  let timer: unknown;
  const late = new Promise<Reply>((resolve) => {
    timer = env.setTimer(() => {
      stop.abort();
      resolve(failed("no_answer"));
    }, request.limit_ms ?? CALL_MS);
  });
  try {
    return await Promise.race([late, exchange(env, request, stop.signal)]);
  } catch {
    return failed("no_answer");
  } finally {
    env.clearTimer(timer);
  }
}

async function exchange(env: HttpEnv, request: Call, signal: AbortSignal): Promise<Reply> {
  const response = await env.fetch(request.path, {
    method: request.method, headers: headersOf(request), body: request.body ?? null, signal,
    credentials: "same-origin", cache: "no-store", redirect: "error",
  });
  // A portal on the barn's network answers 200 with a page of its own. Only our server sets the marker.
  if (response.headers.get(MARKER) !== "1") return failed("not_ours");
  if (request.file && response.ok) return { ok: true, status: response.status, body: await response.blob() };
  const body = await response.text().then((text) => (text ? parsed(text) : null));
  if (response.ok && !body && response.status !== NOTHING_TO_SAY) return failed("not_ours");
  if (response.ok) return { ok: true, status: response.status, body };
  const code = codeOf(body);
  return { ok: false, failure: { kind: kindOf(response.status, code), after_ms: wait_ms(response), code, body } };
}

function headersOf(request: Call): Record<string, string> {
  const headers: Record<string, string> = { Accept: "application/json" };
  if (request.body !== undefined) headers["Content-Type"] = request.type ?? "application/json";
  if (request.gzipped) headers["Content-Encoding"] = "gzip";
  if (request.csrf) headers["X-CSRFToken"] = request.csrf;
  return headers;
}

const KINDS = new Map<number, FailureKind>([
  [400, "unreadable"], [401, "sign_in"], [403, "csrf"], [404, "not_member"], [409, "epoch"], [413, "too_large"],
  [429, "busy"], [503, "busy"],
]);

/** "proof": the token is good, and who is on has to show first that it is she, by her PIN or her password. */
const BY_CODE = new Map<string, FailureKind>([
  ["not_allowed", "refused"], ["removed", "removed"], ["not_yet", "not_member"],
  ["pin_needed", "proof"], ["wrong_pin", "proof"], ["password_needed", "proof"],
]);

function kindOf(status: number, code: string): FailureKind {
  return BY_CODE.get(code) ?? KINDS.get(status) ?? "server_error";
}

function wait_ms(response: Response): number {
  return 1000 * Number(response.headers.get("Retry-After") ?? 0) || 0;
}

function codeOf(body: unknown): string {
  return typeof body === "object" && body !== null ? String((body as { code?: unknown }).code ?? "") : "";
}

export function failed(kind: FailureKind): Reply & { ok: false } {
  return { ok: false, failure: { kind, after_ms: 0, code: kind } };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
