import { ScreenLock, type Awake } from "./awake.ts";

/**
 * What belongs to this phone in the barn: thick gloves, and a screen that stays on. public/theme.js sets the gloves
 * first.
 */
const GLOVE = "mangerline.glove";
const AWAKE = "mangerline.awake";

export const barn = $state({
  glove: localStorage.getItem(GLOVE) === "on",
  stayOn: localStorage.getItem(AWAKE) !== "off",
  awake: "" as Awake,
});
const lock = new ScreenLock("wakeLock" in navigator ? navigator.wakeLock : undefined, (state) => (barn.awake = state));

export function setGlove(on: boolean): void {
  localStorage.setItem(GLOVE, on ? "on" : "off");
  barn.glove = on;
  document.documentElement.classList.toggle("glove", on);
}

export function setStayOn(on: boolean): void {
  localStorage.setItem(AWAKE, on ? "on" : "off");
  barn.stayOn = on;
}

/** While Chores is open. */
export function stayAwake(): (() => void) | undefined {
  if (!barn.stayOn) return undefined;
  lock.want(true);
  return () => lock.want(false);
}

document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible") lock.seen();
});
