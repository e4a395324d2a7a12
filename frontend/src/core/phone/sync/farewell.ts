import { headOf, pushBody } from "./batch.ts";
import type { Failure } from "./http.ts";
import type { At } from "./narrowed.ts";
import type { Parts } from "./sender_parts.ts";
import { isFarewell } from "./wire.ts";

/**
 * Before the farm goes from her phone: where the server was put back to an earlier day since, it has lost what she had
 * sent, and this phone is the last that has it. True where some of it waits again; a failure where nobody answered.
 */
export async function offered_again(parts: Parts, path: At<"push">["path"]): Promise<boolean | Failure> {
  const { env, keeping, session, store } = parts;
  const head = headOf([], keeping.position(), env.now(), keeping.device);
  const body = pushBody({ ...head, pending: 0 }, []);
  const reply = await session.send({ method: "POST", path, body, gzipped: false } satisfies At<"push">);
  if (!reply.ok) return reply.failure.kind === "removed" ? false : reply.failure;
  if (!isFarewell(reply.body) || reply.body.epoch === undefined) return false;
  if (reply.body.epoch === keeping.position().epoch) return false;
  if (!(await store.offerOwnAgain())) return false;
  await keeping.reload();
  return true;
}
