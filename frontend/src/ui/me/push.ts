import type { Where } from "../../core/phone/sync/account_shapes.ts";
import { install } from "../shell/install.svelte.ts";

/**
 * What this phone's browser allows. `hand`: an iPhone shows notices of an app on its home screen alone; `refused`: only
 * the phone's own settings undo that; `none`: it knows no notices.
 */
export type Allows = "yes" | "ask" | "refused" | "hand" | "none";

export function allows(): Allows {
  if (install.byHand) return "hand";
  if (!("serviceWorker" in navigator && "PushManager" in globalThis && "Notification" in globalThis)) return "none";
  const { permission } = Notification;
  return permission === "granted" ? "yes" : permission === "denied" ? "refused" : "ask";
}

/** Asks the person, then the browser's maker, who gives an address; null where one of them said no. */
export async function reached(key: string): Promise<Where | null> {
  if ((await Notification.requestPermission()) !== "granted") return null;
  const push = (await navigator.serviceWorker.getRegistration())?.pushManager;
  if (!push) return null;
  const there = await push.getSubscription();
  // one made for another key of the server's reaches nobody any more
  if (there && !isFor(there, key)) await there.unsubscribe();
  const made = await push.subscribe({ userVisibleOnly: true, applicationServerKey: key }).catch(() => null);
  return made && where(made);
}

/** What the browser holds now, without asking anybody; null where there is nothing to renew. */
export async function held(key: string): Promise<Where | null> {
  const there = await (await navigator.serviceWorker.getRegistration())?.pushManager.getSubscription();
  return there && isFor(there, key) ? where(there) : null;
}

function isFor({ options }: PushSubscription, key: string): boolean {
  const bytes = new Uint8Array(options.applicationServerKey ?? new ArrayBuffer(0));
  return base64url(bytes) === key;
}

function base64url(bytes: Uint8Array): string {
  return btoa(String.fromCharCode(...bytes)).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

function where(made: PushSubscription): Where {
  const { endpoint, keys } = made.toJSON();
  return { endpoint: endpoint ?? "", p256dh: keys?.["p256dh"] ?? "", auth: keys?.["auth"] ?? "" };
}
