/** Whether a hand is on the screen: what it asks for goes before all that is worked unasked. */
const LIFTED_MS = 120;
/** A browser that does not tell when it is idle is asked again so often. */
const NOW_AND_THEN_MS = 50;

let last = -LIFTED_MS;
for (const kind of ["pointerdown", "click", "keydown"])
  globalThis.addEventListener?.(kind, () => (last = performance.now()), { capture: true, passive: true });

/** Within the time a tap takes from the finger to the frame that answers it. */
export function touched(): boolean {
  return performance.now() - last < LIFTED_MS;
}

const scheduling = (globalThis.navigator as { scheduling?: { isInputPending(): boolean } } | undefined)?.scheduling;

/** A tap waits for whoever works to let it through, where the browser tells so. */
export function waits(): boolean {
  return scheduling?.isInputPending() ?? false;
}

export async function untouched(): Promise<void> {
  while (touched()) await new Promise((done) => setTimeout(done, LIFTED_MS - performance.now() + last));
}

/** When the browser has nothing to do, and somebody looks at it without touching it. */
export async function idle(): Promise<void> {
  do {
    await new Promise<void>((done) => {
      if ("requestIdleCallback" in globalThis) requestIdleCallback(() => done());
      else setTimeout(done, NOW_AND_THEN_MS);
    });
  } while (touched() || document.visibilityState !== "visible");
}
