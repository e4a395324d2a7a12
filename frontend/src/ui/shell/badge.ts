/** A number on the app's icon, where the phone shows one: how many clocks run. */
export function badge(clocks: number): void {
  const done = clocks ? navigator.setAppBadge?.(clocks) : navigator.clearAppBadge?.();
  // not on the home screen, or not allowed: there is no icon then to show it on
  done?.catch(() => undefined);
}
