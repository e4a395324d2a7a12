import type { Env } from "../base/env.ts";
import { MediaStore } from "./store/media.ts";
import { sendMedia } from "./sync/media.ts";
import type { Session } from "./sync/session.ts";

/** Of a farm she is on no more, what her entries there show: after them, and before nothing of it is left here. */
export async function hand_in_pictures(session: Session, env: Env, farm: string): Promise<void> {
  const store = new MediaStore(farm, env);
  await sendMedia(session, store, farm).catch(() => undefined);
  store.close();
}
