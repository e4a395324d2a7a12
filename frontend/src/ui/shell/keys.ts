import { drawn } from "../../core/base/env.ts";

/** As long as a tap may take until what was tapped is gone: some half a second. */
const FRAMES = 40;
const FOCUSABLE = "a[href], button:not([disabled]), input, select, textarea, summary";

/**
 * A button that its own tap takes away (a pen fed, a question answered) would leave whoever goes by keys or by ear at
 * the top of the page: they go on in the row, the pen or the part it was in.
 */
export function keepKeys(): void {
  addEventListener("click", () => void follow(document.activeElement), { capture: true, passive: true });
}

async function follow(at: Element | null): Promise<void> {
  const around: Element[] = [];
  const outer = (one: Element | null | undefined) => (one?.matches("main, dialog, body") ? null : one);
  for (let one = outer(at?.parentElement); one; one = outer(one.parentElement)) around.push(one);
  for (let frames = 0; at && around.length && frames < FRAMES; frames += 1) {
    await drawn();
    if (at.isConnected) continue;
    if (document.activeElement !== document.body) return;
    const next = around.find((one) => one.isConnected && one.querySelector(FOCUSABLE));
    return next?.querySelector<HTMLElement>(FOCUSABLE)?.focus({ preventScroll: true });
  }
}
