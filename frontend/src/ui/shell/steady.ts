/** A second tap of one thumb comes so soon, and no farther away. */
const [AGAIN_MS, APART_PX] = [600, 30];

interface Tap {
  at: number;
  x: number;
  y: number;
  on: Element | null;
}

/**
 * For a list whose rows move once one is tapped: what has come under the thumb since is not tapped by its second tap.
 * Again on the same button is meant, and so is a key.
 */
export function steady(clock = () => performance.now()): (event: MouseEvent) => void {
  let last: Tap | null = null;
  return (event) => {
    const on = (event.target as Element | null)?.closest("button, a, summary, input, label") ?? null;
    const tap = { at: clock(), x: event.clientX, y: event.clientY, on };
    const slid = last !== null && event.detail > 0 && tap.on !== last.on && is_same(tap, last);
    if (slid) {
      event.preventDefault();
      event.stopPropagation();
    }
    last = slid ? { ...tap, on: last!.on } : tap;
  };
}

const is_same = (a: Tap, b: Tap) =>
  a.at - b.at < AGAIN_MS && Math.abs(a.x - b.x) < APART_PX && Math.abs(a.y - b.y) < APART_PX;
