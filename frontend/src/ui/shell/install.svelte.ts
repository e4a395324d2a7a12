/** What a browser offers that can put the app on the home screen by itself. */
interface InstallPrompt extends Event {
  prompt(): Promise<{ outcome: "accepted" | "dismissed" }>;
}

let offered: InstallPrompt | null = $state.raw(null);

export function waitForInstall(): void {
  addEventListener("beforeinstallprompt", (event) => {
    event.preventDefault();
    offered = event as InstallPrompt;
  });
  addEventListener("appinstalled", () => (offered = null));
}

export const install = {
  /** The browser asks for us. */
  get isOffered(): boolean {
    return offered !== null;
  },
  /** An iPhone or iPad, in its browser: it is done by hand there. */
  get byHand(): boolean {
    return (navigator as { standalone?: boolean }).standalone === false;
  },
  async ask(): Promise<void> {
    await offered?.prompt();
    offered = null;
  },
};
