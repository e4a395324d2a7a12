const SELDOM_MS = 3_600_000;

/** Registers the service worker and says when a newer app has been fetched and waits for its turn. */
export function watchForNewVersion(ready: () => void): void {
  if (!import.meta.env.PROD || !("serviceWorker" in navigator)) return;
  void navigator.serviceWorker.register("/sw.js").then((registration?: ServiceWorkerRegistration) => {
    if (!registration) return;
    if (registration.waiting && navigator.serviceWorker.controller) ready();
    askNowAndThen(registration);
    registration.addEventListener("updatefound", () => {
      const next = registration.installing;
      next?.addEventListener("statechange", () => {
        if (next.state === "installed" && navigator.serviceWorker.controller) ready();
      });
    });
  }, () => undefined);
}

/** An app that is never closed would never be asked: it is when somebody comes back to it. */
function askNowAndThen(registration: ServiceWorkerRegistration): void {
  let asked = Date.now();
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "visible" || Date.now() - asked < SELDOM_MS) return;
    asked = Date.now();
    registration.update().catch(() => undefined);
  });
}

/** Starts the waiting version; the page reloads once it has taken over. */
export async function startNewVersion(): Promise<void> {
  const registration = await navigator.serviceWorker.getRegistration();
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  registration?.waiting?.postMessage({ type: "SKIP_WAITING" });
}
