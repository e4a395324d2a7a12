import { drawn } from "../../core/base/env.ts";

/**
 * A dialog over the page without the browser's own modal layer, which draws the whole page behind it anew: a slow phone
 * takes longer for that than for the sheet itself. What the browser would see to is done here: nothing behind can be
 * reached by keyboard, touch (the scrim lies over it) or voice, Escape closes, and focus goes back to where it was. To
 * make the page behind inert, or to wake it, is a style of every element on it, and waits until the sheet has been
 * painted.
 */
const FOCUSABLE = "a[href], button:not([disabled]), input, select, textarea, [tabindex='0']";

export function layer(box: HTMLDialogElement, close: () => void): { open(): void; shut(): void } {
  const stops = () => [...box.querySelectorAll<HTMLElement>(FOCUSABLE)];
  box.addEventListener("keydown", (event) => pressed(event, stops(), close));
  const back = ({ target }: FocusEvent) => {
    if (!box.contains(target as Node)) stops()[0]?.focus();
  };
  let opener: HTMLElement | null = null;
  const settle = async () => {
    await drawn();
    for (const each of box.parentElement?.children ?? []) if (each !== box) each.toggleAttribute("inert", box.open);
    if (!box.open && opener?.isConnected && document.activeElement === document.body)
      opener.focus({ preventScroll: true });
  };
  return {
    open() {
      opener = document.activeElement as HTMLElement | null;
      box.show();
      document.addEventListener("focusin", back);
      void settle();
    },
    shut() {
      document.removeEventListener("focusin", back);
      box.close();
      void settle();
    },
  };
}

function pressed(event: KeyboardEvent, stops: HTMLElement[], close: () => void): void {
  if (event.key === "Tab") return turn(event, stops);
  if (event.key !== "Escape") return;
  // It closes this, and nothing else that listens for it on the page.
  event.stopPropagation();
  close();
}

/** From the last to the first and back. */
function turn(event: KeyboardEvent, stops: HTMLElement[]): void {
  const edge = event.shiftKey ? stops[0] : stops.at(-1);
  if (document.activeElement !== edge) return;
  event.preventDefault();
  (event.shiftKey ? stops.at(-1) : stops[0])?.focus();
}
