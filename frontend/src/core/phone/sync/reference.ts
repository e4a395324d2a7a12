import type { Env } from "../../base/env.ts";

/** The reference that lies beside the app, out of the worker's cache; null where this build came without it. */
export async function reference_text(env: Pick<Env, "fetch">): Promise<unknown> {
  try {
    const response = await env.fetch("/data/reference.json", { credentials: "same-origin" });
    return response.ok ? ((await response.json()) as unknown) : null;
  } catch {
    return null;
  }
}
