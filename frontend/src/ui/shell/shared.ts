/** Where the service worker lays a picture that was shared into the app: a cache of that name, under that name. */
export const SHARED = "/shared-picture";

export async function sharedPicture(): Promise<Blob | undefined> {
  return (await (await caches.open(SHARED)).match(SHARED))?.blob();
}

export async function dropShared(): Promise<void> {
  await caches.delete(SHARED);
}
