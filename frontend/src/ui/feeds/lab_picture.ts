import { Photos } from "../../core/phone/store/photos.ts";
import { take } from "../media/take.ts";
import { session } from "../model/session.svelte.ts";

/** The picture of a report, on this phone alone until what it says is saved. `of`: "lot ID", "feed ID" or "lot new". */
const keyOf = (of: string) => `lab ${of}`;

async function using<T>(work: (photos: Photos) => Promise<T>): Promise<T> {
  const photos = new Photos(session.farm!.farmId, session.door.env);
  return work(photos).finally(() => photos.close());
}
export const pictureOf = (of: string): Promise<string> => using((photos) => photos.of(keyOf(of)));
export const keepPicture = (of: string, url: string): Promise<void> => using((photos) => photos.keep(keyOf(of), url));

/** What was typed is saved: the picture goes with it, to every phone. */
export async function filed(of: string, subject: string): Promise<void> {
  const url = await pictureOf(of);
  if (!url) return;
  await take(blobOf(url), subject, "report");
  await keepPicture(of, "");
}

/** By hand: a page may not fetch what stands in an address. */
function blobOf(url: string): Blob {
  const text = atob(url.slice(url.indexOf(",") + 1));
  return new Blob([Uint8Array.from(text, (letter) => letter.charCodeAt(0))], { type: "image/jpeg" });
}
