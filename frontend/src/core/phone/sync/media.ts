import type { MediaStore } from "../store/media.ts";
import type { MediaRow } from "../store/rows.ts";
import type { At } from "./narrowed.ts";
import type { Session } from "./session.ts";

/** "later": no answer, or none of ours; "no_room": the farm's room is used up; "refused": one will never be taken. */
export type MediaEnd = "done" | "later" | "no_room";

/** A picture is large and a signal in a barn weak: it may take longer than entries may. */
const LIMIT_MS = 90_000;
const path = (farm: string, sha256: string) => `/api/farms/${farm}/media/${sha256}` as const;

/** Sends what waits, one at a time, and stops at the first without an answer. What is refused stays, with its code. */
export async function sendMedia(session: Session, store: MediaStore, farm: string): Promise<MediaEnd> {
  let end: MediaEnd = "done";
  for (const { sha256, code } of await store.unsent()) {
    if (code && code !== "no_room") continue;
    const row = await store.of(sha256);
    if (!row) {
      await store.refused(sha256, "lost");
      continue;
    }
    const now = await sendOne(session, farm, row, store);
    if (now === "later") return now;
    if (now === "no_room") end = now;
  }
  return end;
}

async function sendOne(session: Session, farm: string, row: MediaRow, store: MediaStore): Promise<MediaEnd> {
  const sent: At<"keepPicture"> = {
    method: "PUT", path: path(farm, row.sha256), body: new Uint8Array(row.content), type: row.type, limit_ms: LIMIT_MS,
  };
  const reply = await session.send(sent);
  if (reply.ok) {
    await store.sent(row.sha256);
    return "done";
  }
  const { code } = reply.failure;
  if (code !== "no_room" && code !== "bad_media") return "later";
  await store.refused(row.sha256, code);
  return code === "no_room" ? code : "done";
}

/** From this phone, or from the server and kept; null where neither has it to give now. */
export async function mediaOf(
  session: Session, store: MediaStore, farm: string, sha256: string,
): Promise<MediaRow | null> {
  const held = await store.of(sha256).catch(() => undefined);
  if (held) return held;
  const asked: At<"picture"> = { method: "GET", path: path(farm, sha256), file: true, limit_ms: LIMIT_MS };
  const reply = await session.send(asked);
  if (!reply.ok) return null;
  const content = await (reply.body as Blob).arrayBuffer();
  const row = { sha256, type: isWave(content) ? "audio/wav" : "image/jpeg", content };
  await store.keepFetched(row).catch(() => undefined);
  return row;
}

const RIFF = 0x52494646;

function isWave(content: ArrayBuffer): boolean {
  return content.byteLength > 4 && new DataView(content).getUint32(0) === RIFF;
}
