/** Registers the service worker and says when a newer app has been fetched and waits for its turn. */
export function watchForNewVersion(ready: () => void): void {
  if (!import.meta.env.PROD || !("serviceWorker" in navigator)) return;
  void navigator.serviceWorker.register("/sw.js").then((registration?: ServiceWorkerRegistration) => {
    if (!registration) return;
    if (registration.waiting && navigator.serviceWorker.controller) ready();
    registration.addEventListener("updatefound", () => {
      const next = registration.installing;
      next?.addEventListener("statechange", () => {
        if (next.state === "installed" && navigator.serviceWorker.controller) ready();
      });
    });
  }, () => undefined);
}

/** Starts the waiting version; the page reloads once it has taken over. */
export async function startNewVersion(): Promise<void> {
  const registration = await navigator.serviceWorker.getRegistration();
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  registration?.waiting?.postMessage({ type: "SKIP_WAITING" });
}
