import { IDBFactory } from "fake-indexeddb";
import { afterEach, expect, test } from "vitest";
import type { Envelope } from "../../src/core/events/events.ts";
import { VERSIONS } from "../../src/core/events/kinds.ts";
import type { Farm } from "../../src/core/phone/farm.ts";
import type { Unread } from "../../src/core/phone/unread.ts";
import { StoreError } from "../../src/core/phone/store/errors.ts";
import type { FarmStore } from "../../src/core/phone/store/farm_store.ts";
import { notices } from "../../src/core/phone/waits.ts";
import { Schedule } from "../../src/core/phone/sync/schedule.ts";
import type { FakeServer } from "../support/fake_server.ts";
import { BEA, doe, DOE, kinds, openFarm, score, setUp, type Setup } from "../support/farm.ts";
import { START_MS } from "../support/phone.ts";

/** What cannot be taken in ends in a new start with the outbox kept, and is never called "all sent". */
const bootstraps = (server: FakeServer) => server.requests.filter(({ path }) => path.endsWith("/bootstrap")).length;
const scores = (farm: Farm) => farm.view.does[DOE]?.scores.map(([, x100]) => x100) ?? [];

function from(n: number, kind: string, data: unknown, more: object = {}): Envelope {
  const id = `0190f3a2-0000-7000-8000-${String(n).padStart(12, "0")}`;
  const hlc = `${START_MS.toString(16).padStart(12, "0")}-${n.toString(16).padStart(4, "0")}-bbbbbbbb`;
  return {
    id, kind, v: 1, subject: DOE, on: "2026-11-02", slot: "", happened: START_MS + n, entered: START_MS + n, hlc,
    author: BEA, device: BEA, data, ...more,
  } as Envelope;
}

function came(server: FakeServer, ...events: Envelope[]): void {
  for (const ev of events) server.log.push({ seq: server.log.length + 1, st: "ok", eff: null, ev });
}

interface Fault {
  /** How often it throws from now on. */
  left: number;
  store: (real: FarmStore) => FarmStore;
}

/** A store that does its work, and whose answer then throws. */
function fault(method: keyof FarmStore, error: Error = new TypeError("not what it should be")): Fault {
  const made: Fault = {
    left: 0,
    store: (real) => new Proxy(real, {
      get: (target, name) => {
        const value = Reflect.get(target, name, target) as unknown;
        if (typeof value !== "function") return value;
        return async (...given: unknown[]) => {
          const done = await (value as (...all: unknown[]) => Promise<unknown>).apply(target, given);
          if (name === method && made.left-- > 0) throw error;
          return done;
        };
      },
    }),
  };
  return made;
}

async function withFault(made: Fault): Promise<Setup> {
  const set = await setUp(1, { parts: { store: made.store } });
  await doe(set.farm).saved;
  await set.farm.sync();
  return set;
}

test("what cannot be taken in once: the farm is fetched anew, and what waits goes out", async () => {
  const made = fault("applyReply");
  const { farm, server } = await withFault(made);
  came(server, from(1, "score", { x100: 250 }));
  await score(farm, 325).saved;
  made.left = 1;
  const before = bootstraps(server);
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(bootstraps(server) - before).toBe(1);
  expect([kinds(farm), farm.status.kind, scores(farm)]).toEqual([[], "sent", [325, 250]]);
  expect(server.log).toHaveLength(3);
  expect(farm.diagnostics()).toContain("astray");
});

test("what can never be taken in: nothing is lost, no endless loop, and nobody hears that all is sent", async () => {
  const made = fault("applySnapshot");
  const first = fault("applyReply");
  const { farm, server } = await withFault({ left: 0, store: (real) => first.store(made.store(real)) });
  [made.left, first.left] = [1000, 1000];
  await score(farm).saved;
  const before = bootstraps(server);
  expect(await farm.sync()).toMatchObject({ kind: "later", why: "astray" });
  expect(bootstraps(server) - before).toBeLessThanOrEqual(2);
  expect(farm.status.kind).toBe("astray");
  expect(farm.view.does[DOE]).toBeDefined();
  expect(await farm.sync()).toMatchObject({ kind: "later", why: "astray" });
  expect(farm.status.kind).toBe("astray");
  [made.left, first.left] = [0, 0];
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect([farm.status.kind, kinds(farm), scores(farm)]).toEqual(["sent", [], [300]]);
});

test("after a run that went astray the next try waits longer each time", async () => {
  const waits: number[] = [];
  const setTimer = (_run: () => void, ms: number) => waits.push(ms);
  const timers = { setTimer, clearTimer: () => undefined, random: () => new Uint8Array([255]) };
  const schedule = new Schedule(() => Promise.reject(new Error("astray")), timers);
  schedule.start();
  for (let i = 0; i < 4; i++) await schedule.now();
  expect(waits.length).toBeGreaterThanOrEqual(4);
  expect(waits.at(-1)!).toBeGreaterThan(waits[0]!);
});

test("what waits again by what could not be taken in is spoken of when storage is gone before the next start", async () => {
  const made = fault("applySnapshot");
  const { farm, server, phone } = await withFault(made);
  [server.log, server.epoch, made.left] = [[], 2, 1];
  expect(await farm.sync()).toMatchObject({ kind: "later", why: "astray" });
  await new Promise((done) => setTimeout(done, 50));
  farm.close();
  phone.factory = new IDBFactory();
  await openFarm(phone);
  expect(notices(phone.env())).toMatchObject([{ what: "lost", n: 1, kinds: { doe: 1 } }]);
});

test("what was answered for by what could not be taken in is missed by nobody", async () => {
  const [made, no_farm] = [fault("applyReply"), fault("applySnapshot")];
  const { farm, server, phone } = await withFault({ left: 0, store: (real) => made.store(no_farm.store(real)) });
  await score(farm, 325).saved;
  [made.left, no_farm.left] = [1, 1];
  expect(await farm.sync()).toMatchObject({ kind: "later", why: "astray" });
  await new Promise((done) => setTimeout(done, 50));
  expect(server.log).toHaveLength(2);
  farm.close();
  phone.factory = new IDBFactory();
  await openFarm(phone);
  expect(notices(phone.env())).toEqual([]);
});

test("storage that refuses is no reason to fetch the farm again", async () => {
  const made = fault("applyReply", new StoreError("quota"));
  const { farm, server } = await withFault(made);
  made.left = 1000;
  await score(farm).saved;
  const before = bootstraps(server);
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect([bootstraps(server), farm.status.kind]).toEqual([before, "not_saved"]);
});

test("a phone that cannot read what it holds at opening asks for the farm anew", async () => {
  const set = await setUp();
  await doe(set.farm).saved;
  await set.farm.sync();
  set.farm.close();
  const made = fault("load");
  made.left = 1000;
  const farm = await openFarm(set.phone, { parts: { store: made.store } });
  expect(farm.status.kind).toBe("astray");
  made.left = 0;
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect([farm.status.kind, farm.view.does[DOE]?.f["name"]]).toEqual(["sent", "Fern"]);
});

test("what another tab wrote and cannot be taken in: the farm is fetched anew, and what it sent is not missed", async () => {
  const { phone, server, farm: before } = await setUp();
  await doe(before).saved;
  await before.sync();
  before.close();
  const tabs: BroadcastChannel[] = [];
  const env = phone.env({ channel: (name) => (tabs.push(new BroadcastChannel(name)), tabs.at(-1)!) });
  const made = fault("load");
  const [one, two] = [await openFarm(phone, { env }), await openFarm(phone, { env, parts: { store: made.store } })];
  await score(one).saved;
  await new Promise((done) => setTimeout(done, 100));
  expect(kinds(two)).toEqual(["score"]);
  made.left = 1;
  await one.sync();
  await new Promise((done) => setTimeout(done, 100));
  expect([two.status.kind, phone.marks]).toEqual(["astray", ""]);
  expect(await two.sync()).toEqual({ kind: "done" });
  expect([kinds(two), two.status.kind, server.log.length]).toEqual([[], "sent", 2]);
  tabs.forEach((tab) => tab.close());
});

test("a screen that stumbles keeps nothing from coming in", async () => {
  const { farm, server } = await setUp();
  await doe(farm).saved;
  farm.subscribe(() => {
    throw new Error("a screen");
  });
  await farm.sync();
  came(server, from(1, "score", { x100: 250 }));
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(scores(farm)).toEqual([250]);
});

test("an entry nobody can read is named, and the farm around it stands, now and after it is opened again", async () => {
  const { farm, phone, server } = await setUp();
  await doe(farm).saved;
  await farm.sync();
  came(
    server, from(1, "void", null, { v: 2 }), from(2, "score", null), from(3, "void", null),
    from(4, "correct", { of: 5 }), from(5, "score", { x100: 275 }),
  );
  expect(await farm.sync()).toEqual({ kind: "done" });
  const named = ({ aside }: Unread) => aside.map(({ kind, event }) => [kind, event?.author]);
  const told = (one: Farm) => [scores(one), named(one.unread()), one.unread().newer];
  const want = [[275], [["score", BEA], ["void", BEA], ["correct", BEA]], 1];
  expect(told(farm)).toEqual(want);
  expect(farm.events(() => true).map(({ kind }) => kind).sort()).toEqual(["doe", "score"]);
  expect(farm.diagnostics()).toMatch(/^app .* status sent 0 aside 3 parked 1\n/);
  await score(farm).saved;
  expect(await farm.sync()).toEqual({ kind: "done" });
  farm.close();
  expect(told(await openFarm(phone))).toEqual([[300, 275], ...want.slice(1)]);
});

test("voids that name each other do not stop a phone from receiving", async () => {
  const { farm, server } = await setUp();
  await doe(farm).saved;
  await farm.sync();
  const [one, other, self] = [from(1, "void", {}), from(2, "void", {}), from(3, "correct", {})];
  [one.data, other.data, self.data] = [{ of: other.id }, { of: one.id }, { of: self.id, data: {} }];
  came(server, one, other, self);
  expect(await farm.sync()).toEqual({ kind: "done" });
  came(server, from(4, "score", { x100: 275 }));
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(scores(farm)).toEqual([275]);
});

const TODAY = { ...VERSIONS };
afterEach(() => void Object.assign(VERSIONS, TODAY));

test("what a newer app recorded waits on an older one, and counts once this one is newer", async () => {
  const { farm, phone, server } = await setUp();
  await doe(farm).saved;
  await farm.sync();
  came(server, from(1, "left_herd", { why: "sold" }, { v: 2 }), from(2, "void", { of: from(1, "", 0).id }, { v: 3 }));
  await farm.sync();
  expect([farm.view.does[DOE]!.left_on, farm.view.parked.length, farm.unread().newer]).toEqual(["", 2, 2]);
  farm.close();
  VERSIONS.left_herd = 2;
  const newer = await openFarm(phone);
  expect([newer.view.does[DOE]!.left_on, newer.unread().newer]).toEqual(["2026-11-02", 1]);
  VERSIONS.void = 3;
  newer.close();
  const newest = await openFarm(phone);
  expect([newest.view.does[DOE]!.left_on, newest.view.parked]).toEqual(["", []]);
});

test("one on which the fold stops is set aside, and nothing of it stays", async () => {
  const { fold } = await import("../../src/core/state/fold.ts");
  const stops = from(2, "score", {});
  let reads = 0;
  // The check reads it, the fold stumbles over it.
  const get = () => {
    if (reads++ % 2) throw new Error("stop");
    return 300;
  };
  Object.defineProperty(stops.data, "x100", { enumerable: true, get });
  const sound = [from(1, "doe", { f: { name: "Fern" }, base: {} }), from(3, "score", { x100: 275 })];
  const view = fold([...sound, stops]);
  expect(view.aside).toEqual([{ ev: stops.id, kind: "score", why: "stopped" }]);
  expect({ ...view, aside: [] }).toEqual(fold(sound));
});
