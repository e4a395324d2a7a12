import { expect, test } from "vitest";
import { ScreenLock, type Awake } from "../../src/ui/shell/awake.ts";

/** A phone's screen lock that counts, and that can refuse or be let go from outside. */
function phone() {
  const said: Awake[] = [];
  const held: { released: boolean; letGo: () => void }[] = [];
  const state = { refuses: false };
  const request = async () => {
    if (state.refuses) throw new DOMException("low battery", "NotAllowedError");
    let listener: () => void = () => undefined;
    const one = { released: false, letGo: () => listener() };
    held.push(one);
    return {
      addEventListener: (_: string, heard: () => void) => (listener = heard),
      release: async () => void (one.released = true),
    } as unknown as WakeLockSentinel;
  };
  return { said, held, state, lock: new ScreenLock({ request }, (word) => said.push(word)) };
}
const settled = () => new Promise((done) => setTimeout(done));

test("wanted: asked for once, and let go when no longer wanted", async () => {
  const { lock, held, said } = phone();
  lock.want(true);
  lock.seen();
  await settled();
  lock.seen();
  await settled();
  expect([held.length, said]).toEqual([1, ["on"]]);
  lock.want(false);
  expect([held[0]!.released, said.at(-1)]).toEqual([true, ""]);
});

test("let go by the browser while hidden, it is asked for again when the page is back", async () => {
  const { lock, held } = phone();
  lock.want(true);
  await settled();
  held[0]!.letGo();
  lock.seen();
  await settled();
  expect(held.length).toBe(2);
});

test("not wanted, coming back asks for nothing", async () => {
  const { lock, held } = phone();
  lock.seen();
  await settled();
  expect(held).toEqual([]);
});

test("left before the phone had answered: what it then gives is given back", async () => {
  const { lock, held } = phone();
  lock.want(true);
  lock.want(false);
  await settled();
  expect(held.map(({ released }) => released)).toEqual([true]);
});

test("a phone that refuses is told as it is, and asked again later", async () => {
  const { lock, state, said, held } = phone();
  state.refuses = true;
  lock.want(true);
  await settled();
  expect(said).toEqual(["refused"]);
  state.refuses = false;
  lock.seen();
  await settled();
  expect([said.at(-1), held.length]).toEqual(["on", 1]);
});

test("a browser that cannot says so", () => {
  const said: Awake[] = [];
  new ScreenLock(undefined, (word) => said.push(word)).want(true);
  expect(said).toEqual(["unsupported"]);
});
