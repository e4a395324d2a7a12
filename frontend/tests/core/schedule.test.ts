import { beforeEach, expect, test } from "vitest";
import { Schedule } from "../../src/core/phone/sync/schedule.ts";
import type { Ended } from "../../src/core/phone/sync/ended.ts";

const LATER: Ended = { kind: "later", why: "no_answer", after_ms: 0 };
let timers: { run: () => void; ms: number; live: boolean }[];
let runs: number;
let ended: Ended;
let schedule: Schedule;

const env = {
  setTimer: (run: () => void, ms: number) => timers.push({ run, ms, live: true }) - 1,
  clearTimer: (id: unknown) => void (timers[id as number]!.live = false),
  random: () => Uint8Array.of(255),
};
const settle = () => new Promise((next) => setImmediate(next));
const live = () => timers.filter((timer) => timer.live).map(({ ms }) => ms);

beforeEach(() => {
  env.random = () => Uint8Array.of(255);
  [timers, runs, ended] = [[], 0, { kind: "done" }];
  schedule = new Schedule(() => Promise.resolve((runs++, ended)), env);
});

/** Started, and its first run over. */
async function started(): Promise<void> {
  schedule.start();
  await settle();
  runs = 0;
}

test("runs at the start, then each minute, with one timer alive", async () => {
  schedule.start();
  await settle();
  expect([runs, live()]).toEqual([1, [60_000]]);
  timers[0]!.run();
  await settle();
  expect(runs).toBe(2);
});

test("taps close together are sent together, two seconds after the last", async () => {
  schedule.start();
  await settle();
  schedule.logged();
  schedule.logged();
  expect([runs, live()]).toEqual([1, [2_000]]);
});

test("a tap while a run is under way is sent two seconds after it, not a minute later", async () => {
  let finish: () => void = () => {};
  const held = new Schedule(() => new Promise((done) => (finish = () => done({ kind: "done" }))), env);
  held.start();
  held.logged();
  finish();
  await settle();
  expect(live()).toEqual([2_000]);
});

test("asked for while a run is under way that had looked before the tap: another follows in two seconds", async () => {
  const ends: (() => void)[] = [];
  const held = new Schedule(() => new Promise((done) => ends.push(() => done({ kind: "done" }))), env);
  held.start();
  held.logged();
  void held.asked();
  ends[0]!();
  await settle();
  expect([ends.length, live()]).toEqual([1, [2_000]]);
});

test("asked for twice at once it is one try, and one failure", async () => {
  await started();
  ended = LATER;
  await Promise.all([schedule.now(), schedule.now()]);
  expect([runs, live()]).toEqual([1, [1_000]]);
});

test("before the start nothing is sent by itself", () => {
  schedule.logged();
  expect(live()).toEqual([]);
});

test("failures wait longer and longer, and a tap does not hurry them", async () => {
  await started();
  ended = LATER;
  for (const want of [1_000, 2_000, 4_000]) {
    await schedule.now();
    expect(live()).toEqual([want]);
  }
  schedule.logged();
  expect(live()).toEqual([4_000]);
});

test("signal coming back tries at once and starts the waits over", async () => {
  await started();
  ended = LATER;
  for (let i = 0; i < 5; i++) await schedule.now();
  schedule.online();
  await settle();
  expect([runs, live()]).toEqual([6, [1_000]]);
});

test("the server's own wish to wait is kept to, spread out, and is no failure", async () => {
  await started();
  ended = { kind: "later", why: "busy", after_ms: 90_000 };
  for (const [chance, want] of [[0, 90_000], [255, 135_000]] as const) {
    env.random = () => Uint8Array.of(chance);
    await schedule.now();
    expect(live()).toEqual([want]);
  }
  schedule.logged();
  expect(live()).toEqual([135_000]);
  ended = LATER;
  await schedule.now();
  expect(live()).toEqual([1_000]);
});

test("outlooks that are being made are asked for after 2, 4, 8 seconds, and then each minute", async () => {
  ended = { kind: "done", due: true };
  await started();
  expect(live()).toEqual([2_000]);
  for (const want of [4_000, 8_000, 16_000, 32_000, 60_000, 60_000]) {
    await schedule.now();
    expect(live()).toEqual([want]);
  }
  schedule.logged();
  await schedule.now();
  expect(live()).toEqual([2_000]);
  ended = { kind: "done" };
  await schedule.now();
  expect(live()).toEqual([60_000]);
});

test("hidden: no timer at all; visible again: at once", async () => {
  schedule.start();
  await settle();
  schedule.hidden();
  schedule.logged();
  expect(live()).toEqual([]);
  schedule.visible();
  await settle();
  expect(runs).toBe(2);
});

test("another tab sending is no failure, and it may be the page this one was opened in place of: soon again", async () => {
  await started();
  ended = { kind: "later", why: "other_tab", after_ms: 0 };
  for (const _ of [1, 2, 3]) {
    await schedule.now();
    expect(live()).toEqual([2_000]);
  }
});

test("a locked sender asks again each minute", async () => {
  await started();
  ended = { kind: "locked", why: "sign_in" };
  await schedule.now();
  expect(live()).toEqual([60_000]);
});

test("stopped for good", async () => {
  schedule.start();
  schedule.stop();
  await settle();
  expect(live()).toEqual([]);
});
