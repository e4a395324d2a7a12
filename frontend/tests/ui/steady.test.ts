import { expect, test } from "vitest";
import { steady } from "../../src/ui/shell/steady.ts";

/** A tap on something at a place, as the page's capture handler hears it; true where it goes through. */
function page(): (name: string, at: number, y?: number, detail?: number) => boolean {
  let now = 0;
  const heard = steady(() => now);
  const buttons = new Map<string, object>();
  return (name, at, y = 300, detail = 1) => {
    now = at;
    const button = buttons.get(name) ?? { name };
    buttons.set(name, button);
    let through = true;
    const target = { closest: () => button };
    const stop = () => (through = false);
    const event = { target, clientX: 100, clientY: y, detail, preventDefault: stop, stopPropagation: stop };
    heard(event as unknown as MouseEvent);
    return through;
  };
}

test("the second tap of a thumb goes to nothing that has slid under it", () => {
  const tap = page();
  expect([tap("her", 0), tap("next", 350), tap("third", 500)]).toEqual([true, false, false]);
  expect(tap("next", 1400)).toBe(true);
});

test("again on the same button, elsewhere, later, or by a key is meant", () => {
  const tap = page();
  expect([tap("one", 0), tap("one", 200), tap("two", 300, 420), tap("one", 1000)]).toEqual([true, true, true, true]);
  expect(tap("two", 1100, 300, 0)).toBe(true);
});
