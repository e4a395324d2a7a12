/// <reference lib="webworker" />
import { cleanupOutdatedCaches, createHandlerBoundToURL, precacheAndRoute } from "workbox-precaching";
import { NavigationRoute, registerRoute } from "workbox-routing";
import { takeNotices } from "./sw_push.ts";
import { SHARED } from "./ui/shell/shared.ts";

declare const self: ServiceWorkerGlobalScope & { __WB_MANIFEST: { url: string; revision: string | null }[] };

// The worker keeps the app's own files and answers navigations with the shell. It never sees farm data: anything
// under these paths goes to the network, and no answer of theirs is ever stored.
const SERVER_OWNED = [/^\/(api|healthz|admin|static)([/?]|$)/];

precacheAndRoute(self.__WB_MANIFEST, { ignoreURLParametersMatching: [/.*/] });
cleanupOutdatedCaches();
registerRoute(new NavigationRoute(createHandlerBoundToURL("/index.html"), { denylist: SERVER_OWNED }));

// A picture somebody shares into the app waits here until its page takes it: without a signal as with one, and sent to
// nobody.
registerRoute(
  ({ url }) => url.pathname === "/share",
  async ({ request }) => {
    const picture = await request.formData().then((form) => form.get("picture"), () => null);
    if (picture instanceof File && picture.size) await (await caches.open(SHARED)).put(SHARED, new Response(picture));
    return Response.redirect("/#/shared", 303);
  },
  "POST",
);

// A half-filled form must not be reloaded under the person's thumb, so a new version waits until the page says so.
self.addEventListener("message", (event) => {
  if (isSkipWaiting(event.data)) void self.skipWaiting();
});

takeNotices();

self.addEventListener("activate", (event) => {
  event.waitUntil(self.clients.claim());
});

function isSkipWaiting(data: unknown): boolean {
  return typeof data === "object" && data !== null && (data as { type?: unknown }).type === "SKIP_WAITING";
}
