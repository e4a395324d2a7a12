import { Photos } from "../../core/phone/store/photos.ts";
import { keep, shrunk, type Small } from "../media/take.ts";
import { session } from "../model/session.svelte.ts";

/** The picture of a report, on this phone alone until what it says is saved. `of`: "lot ID", "feed ID" or "lot new". */
const keyOf = (of: string) => `lab ${of}`;

async function using<T>(work: (photos: Photos) => Promise<T>): Promise<T> {
  const photos = new Photos(session.farm!.farmId, session.door.env);
  return work(photos).finally(() => photos.close());
}

export async function layBeside(of: string, file: Blob): Promise<void> {
  const small = await shrunk(file, "report");
  await using((photos) => photos.keep(keyOf(of), small));
}

/** Its address, for as long as the page shows it, or "". */
export async function pictureOf(of: string): Promise<string> {
  const held = await using((photos) => photos.of(keyOf(of)));
  return held ? URL.createObjectURL(blobOf(held as Small | string)) : "";
}

export const dropPicture = (of: string): Promise<void> => using((photos) => photos.drop(keyOf(of)));

/** What was typed is saved: the picture goes with it, to every phone. */
export async function filed(of: string, subject: string): Promise<void> {
  const held = (await using((photos) => photos.of(keyOf(of)))) as Small | string | undefined;
  if (!held) return;
  await keep(typeof held === "string" ? await shrunk(blobOf(held), "report") : held, subject, "report");
  await dropPicture(of);
}

/** Apps of before kept a data address, of a larger one. By hand: a page may not fetch what stands in an address. */
function blobOf(held: Small | string): Blob {
  const content =
    typeof held === "string"
      ? Uint8Array.from(atob(held.slice(held.indexOf(",") + 1)), (letter) => letter.charCodeAt(0))
      : held.content;
  return new Blob([content], { type: "image/jpeg" });
}
