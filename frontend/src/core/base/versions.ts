export const APP = __APP_VERSION__;
export const SCHEMA = 1;
/** The running script's own address, which is another one for every build; whoever starts the app says it. */
export let BUILD = "";
export function runs(build: string): void {
  BUILD = build;
}

/** "1.10.0" is newer than "1.9.2". Anything unreadable asks for nothing. */
export function isOlder(app: string, minimum: string): boolean {
  const [have, need] = [app, minimum].map((text) => text.split(".").map(Number));
  for (let i = 0; i < 3; i++) {
    const [a, b] = [have![i] ?? 0, need![i] ?? 0];
    if (!Number.isFinite(a) || !Number.isFinite(b)) return false;
    if (a !== b) return a < b;
  }
  return false;
}
