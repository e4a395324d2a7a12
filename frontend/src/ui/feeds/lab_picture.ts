import { Photos } from "../../core/phone/store/photos.ts";
import { session } from "../model/session.svelte.ts";

/** The picture of a report, on this phone, beside the form it is typed from. `of`: "lot ID", "feed ID" or "lot new". */
const keyOf = (of: string) => `lab ${of}`;

async function using<T>(work: (photos: Photos) => Promise<T>): Promise<T> {
  const photos = new Photos(session.farm!.farmId, session.door.env);
  return work(photos).finally(() => photos.close());
}
export const pictureOf = (of: string): Promise<string> => using((photos) => photos.of(keyOf(of)));
export const keepPicture = (of: string, url: string): Promise<void> => using((photos) => photos.keep(keyOf(of), url));
