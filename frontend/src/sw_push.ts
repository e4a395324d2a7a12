/// <reference lib="webworker" />
declare const self: ServiceWorkerGlobalScope;

/** What the server sends (herd/services/telling/outbox.py), and no more. */
interface Said {
  title: string;
  body: string;
  tag: string;
  url: string;
  urgent: boolean;
  n: number;
}

/** Tags that were shown here: one that comes again, because the server could not know, is not shown again. */
const TOLD = "told";
const MOST = 100;

export function takeNotices(): void {
  self.addEventListener("push", (event) => {
    if (event.data) event.waitUntil(show(event.data.json() as Said));
  });
  self.addEventListener("notificationclick", (event) => {
    event.notification.close();
    event.waitUntil(open(String(event.notification.data)));
  });
}

async function show({ title, body, tag, url, urgent, n }: Said): Promise<void> {
  const told = await caches.open(TOLD);
  const key = `/told/${tag}`;
  if (await told.match(key)) return;
  const more = { tag, renotify: urgent, requireInteraction: urgent, data: url, icon: "/icons/icon-192.png" };
  await self.registration.showNotification(title, { body, ...more });
  await told.put(key, new Response());
  await self.navigator.setAppBadge?.(n).catch(() => undefined);
  for (const old of (await told.keys()).slice(0, -MOST)) await told.delete(old);
}

/** The app where it is open, on that page; else it is opened there. */
async function open(url: string): Promise<void> {
  if (!url.startsWith("/#/")) return;
  const [window] = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
  if (!window) return void (await self.clients.openWindow(url));
  await window.focus().catch(() => undefined);
  // one that is not under this worker cannot be led anywhere
  await window.navigate(url).catch(() => self.clients.openWindow(url));
}
