/** What a finger can act on. */
const CONTROLS = "a, button, input, select, textarea, summary, label";
const SLIP_PX = 24;

interface Press {
  on: HTMLElement | null;
  x: number;
  y: number;
}

const under = (event: Event) => (event.target as Element).closest<HTMLElement>(CONTROLS);
const nameOf = (control: HTMLElement | null) => control?.ariaLabel ?? control?.textContent;

/**
 * A tap belongs to what was under the finger when it came down. Rows grow as what is to be said of each doe arrives,
 * and without this a tap made in that moment would reach nobody, or the doe beside her.
 */
export function keepPresses(): void {
  let press = null as Press | null;
  document.addEventListener(
    "pointerdown", (event) => (press = { on: under(event), x: event.clientX, y: event.clientY }), true,
  );
  for (const end of ["pointercancel", "contextmenu", "keydown"])
    document.addEventListener(end, () => (press = null), true);
  document.addEventListener(
    "click",
    (event) => {
      const [began, now] = [press, under(event)];
      press = null;
      // A keyboard or a screen reader clicks without a finger.
      if (!event.isTrusted || event.detail === 0 || !began || began.on === now) return;
      // Drawn anew meanwhile, it is still the same button.
      if (now && began.on && !began.on.isConnected && nameOf(began.on) === nameOf(now)) return;
      event.preventDefault();
      event.stopPropagation();
      const stayed = Math.hypot(event.clientX - began.x, event.clientY - began.y) < SLIP_PX;
      if (stayed && began.on?.isConnected) began.on.click();
    },
    true,
  );
}
