import type { Env } from "../env.ts";

export const MARKER = "X-Mangerline";
export const CALL_MS = 25_000;

export type Failure =
  | { kind: "no_answer" | "not_ours" | "busy" | "server_error"; after_ms: number }
  | { kind: "sign_in" | "csrf" | "not_member" | "epoch" | "too_large" | "unreadable" | "refused" };

export type Reply = { ok: true; status: number; body: unknown } | { ok: false; failure: Failure };

export interface Call {
  method: "GET" | "POST" | "DELETE";
  path: string;
  body?: string | Uint8Array<ArrayBuffer>;
  gzipped?: boolean;
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
  const body = await response.text().then(parsed);
  if (response.ok) return body === undefined ? failed("not_ours") : { ok: true, status: response.status, body };
  return { ok: false, failure: failureOf(response, body) };
}

function headersOf(request: Call): Record<string, string> {
  const headers: Record<string, string> = { Accept: "application/json" };
  if (request.body !== undefined) headers["Content-Type"] = "application/json";
  if (request.gzipped) headers["Content-Encoding"] = "gzip";
  if (request.csrf) headers["X-CSRFToken"] = request.csrf;
  return headers;
}

function failureOf(response: Response, body: unknown): Failure {
  const after_ms = 1000 * Number(response.headers.get("Retry-After") ?? 0) || 0;
  switch (response.status) {
    case 400: return { kind: "unreadable" };
    case 401: return { kind: "sign_in" };
    case 403: return codeOf(body) === "not_allowed" ? { kind: "refused" } : { kind: "csrf" };
    case 404: return { kind: "not_member" };
    case 409: return { kind: "epoch" };
    case 413: return { kind: "too_large" };
    case 429: case 503: return { kind: "busy", after_ms };
    default: return { kind: "server_error", after_ms };
  }
}

function codeOf(body: unknown): string {
  return typeof body === "object" && body !== null ? String((body as { code?: unknown }).code ?? "") : "";
}

function failed(kind: "no_answer" | "not_ours"): Reply {
  return { ok: false, failure: { kind, after_ms: 0 } };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
