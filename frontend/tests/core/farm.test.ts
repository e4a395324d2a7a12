import { expect, test } from "vitest";
import { asText } from "../../src/core/phone/by_file.ts";
import { BadEvent } from "../../src/core/events/bad_event.ts";
import { FarmStore } from "../../src/core/phone/store/farm_store.ts";
import { StoreError } from "../../src/core/phone/store/errors.ts";
import type { Channel } from "../../src/core/base/env.ts";
import { ADA, BEA, DOE, doe, FARM, openFarm, score, setUp } from "../support/farm.ts";
import { START_MS, TestPhone } from "../support/phone.ts";

/** Storage that refuses every new entry until told otherwise. */
function refusing(code: "quota" | "timeout" = "quota") {
  const state = { refuses: true };
  const store = (real: FarmStore): FarmStore =>
    Object.assign(Object.create(real) as FarmStore, {
      saveRecorded: (...given: Parameters<FarmStore["saveRecorded"]>) =>
        state.refuses ? Promise.reject(new StoreError(code)) : real.saveRecorded(...given),
      load: (...given: Parameters<FarmStore["load"]>) => real.load(...given), unsent: () => real.unsent(),
      putMeta: () => Promise.resolve(), close: () => real.close(),
      applyReply: (...given: Parameters<FarmStore["applyReply"]>) => real.applyReply(...given),
      applySnapshot: (...given: Parameters<FarmStore["applySnapshot"]>) => real.applySnapshot(...given),
    });
  return { state, parts: { store } };
}

test("a tap changes the view before anything is written", async () => {
  const { farm } = await setUp();
  doe(farm);
  const { saved } = score(farm, 325);
  expect(farm.view.does[DOE]!.scores[0]![1]).toBe(325);
  await saved;
});

test("what was saved is there after the page is gone", async () => {
  const { farm, phone } = await setUp();
  await doe(farm).saved;
  await score(farm, 325).saved;
  farm.close();
  const again = await openFarm(phone);
  expect(again.view).toEqual(farm.view);
  expect(again.pending().map(({ event }) => event.kind)).toEqual(["doe", "score"]);
});

test.each([99, 310, 525, 3.5, null, "300"])(
  "a score of %j is refused at the form and leaves no trace",
  async (x100) => {
    const { farm } = await setUp();
    expect(() => farm.record("score", DOE, { x100: x100 })).toThrow(BadEvent);
    expect(farm.pending()).toEqual([]);
    expect(asText(farm.byFile)).toBe("");
  },
);

test("an impossible date or subject is refused as well", async () => {
  const { farm } = await setUp();
  expect(() => farm.record("score", DOE, { x100: 300 }, { on: "2026-02-30" })).toThrow("on: day");
  expect(() => farm.record("score", "fern", { x100: 300 })).toThrow("subject: id");
});

test("full storage: the entry counts, is told as not saved, can leave as text, and is saved once there is room", async () => {
  const { state, parts } = refusing();
  const { farm, phone } = await setUp(1, { parts });
  const { saved, id } = doe(farm);
  await expect(saved).rejects.toMatchObject({ code: "quota" });
  expect(farm.status).toMatchObject({ kind: "not_saved", n: 1 });
  expect(farm.view.does[DOE]).toBeDefined();
  expect(JSON.parse(asText(farm.byFile))).toMatchObject({ id, author: ADA });
  phone.network = () => Promise.reject(new TypeError("no signal"));
  state.refuses = false;
  await farm.sync();
  expect(farm.status).toMatchObject({ kind: "waiting", n: 1 });
  farm.close();
  expect((await openFarm(phone)).pending()).toHaveLength(1);
});

test("what storage refuses is still sent, and then no longer unsaved", async () => {
  const { parts } = refusing();
  const { farm, server } = await setUp(1, { parts });
  await expect(doe(farm).saved).rejects.toThrow();
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(server.log).toHaveLength(1);
  expect(farm.status.kind).toBe("sent");
});

test("storage that cannot even be opened: entries live in memory, loudly, and can leave as text", async () => {
  const { server } = await setUp();
  const phone = new TestPhone();
  phone.network = server.fetch;
  const broken = { open: () => { throw new DOMException("no room", "QuotaExceededError"); } } as unknown as IDBFactory;
  const farm = await openFarm(phone, { env: phone.env({ indexedDB: broken }) });
  await expect(doe(farm).saved).rejects.toMatchObject({ code: "quota" });
  expect(farm.status).toMatchObject({ kind: "not_saved", n: 1 });
  expect(farm.view.does[DOE]).toBeDefined();
  expect(asText(farm.byFile)).toContain("Fern");
});

test("undo is an entry of its own, and can itself be undone", async () => {
  const { farm } = await setUp();
  doe(farm);
  const { id } = score(farm, 325);
  const undone = farm.undo(id);
  expect(farm.view.does[DOE]!.scores).toEqual([]);
  farm.undo(undone.id);
  expect(farm.view.does[DOE]!.scores).toHaveLength(1);
  expect(farm.pending()).toHaveLength(4);
  expect(() => farm.undo("nothing")).toThrow("no such entry");
});

test("the date is the farm's and can be given, as for a late look after midnight", async () => {
  const { farm, phone } = await setUp();
  phone.now_ms = Date.UTC(2026, 10, 2, 23, 30);
  doe(farm);
  expect(farm.today()).toBe("2026-11-03");
  const late = farm.record("score", DOE, { x100: 300 }, { on: "2026-11-02", slot: "late" });
  expect(farm.event(late.id)).toMatchObject({ on: "2026-11-02", slot: "late", happened: phone.now_ms });
});

test("a clock set back an hour does not bring back an old value", async () => {
  const { farm, phone } = await setUp();
  doe(farm, "Fern");
  phone.now_ms -= 3_600_000;
  doe(farm, "Moss");
  expect(farm.view.does[DOE]!.f["name"]).toBe("Moss");
});

test("the clock survives the page: after a restart with the phone's time set back, the later word still stands", async () => {
  const { farm, phone } = await setUp();
  await doe(farm, "Fern").saved;
  farm.close();
  phone.now_ms = START_MS - 86_400_000;
  const again = await openFarm(phone);
  doe(again, "Moss");
  expect(again.view.does[DOE]!.f["name"]).toBe("Moss");
});

test("two persons on one phone have nothing of each other's, and one device id", async () => {
  const { farm, phone } = await setUp();
  await doe(farm).saved;
  const bea = await openFarm(phone, { person: BEA });
  expect(bea.pending()).toEqual([]);
  expect(bea.view.does).toEqual({});
  await doe(bea, "Moss").saved;
  const of = (text: string) => JSON.parse(text) as { author: string; device: string };
  expect(of(asText(farm.byFile)).author).toBe(ADA);
  expect(of(asText(bea.byFile)).author).toBe(BEA);
  expect(of(asText(bea.byFile)).device).toBe(of(asText(farm.byFile)).device);
});

test("two tabs of one person see each other's taps", async () => {
  const rooms = new Map<string, Channel[]>();
  const channel = (name: string): Channel => {
    const mine: Channel = {
      onmessage: null, close: () => undefined,
      postMessage: (data) =>
        rooms
          .get(name)!
          .filter((it) => it !== mine)
          .forEach((it) => it.onmessage?.({ data } as MessageEvent)),
    };
    rooms.set(name, [...(rooms.get(name) ?? []), mine]);
    return mine;
  };
  const phone = new TestPhone();
  const one = await openFarm(phone, { env: phone.env({ channel }) });
  const two = await openFarm(phone, { env: phone.env({ channel }) });
  const told = new Promise<void>((resolve) => two.subscribe(resolve));
  await doe(one).saved;
  await told;
  expect(two.view.does[DOE]!.f["name"]).toBe("Fern");
  expect(two.pending()).toHaveLength(1);
});

test("who is who comes from the farm and is there offline", async () => {
  const { farm, phone } = await setUp();
  await farm.sync();
  expect(farm.nameOf("p1")).toBe("Ada");
  farm.close();
  phone.network = () => Promise.reject(new TypeError("no signal"));
  const again = await openFarm(phone);
  expect(again.nameOf("p1")).toBe("Ada");
  expect(again.nameOf("stranger")).toBe("");
});

test("outlooks and the book arrive with the rest and are kept", async () => {
  const { farm, server, phone } = await setUp();
  server.outlooks = [{ doe: "", rev: 1, schema: 1, science: "t", rules: {}, feeds: {} }, { doe: DOE, rev: 2 }];
  server.outlook_rev = 2;
  await farm.sync();
  expect(farm.book.science).toBe("t");
  farm.close();
  const again = await openFarm(phone);
  expect(again.outlook(DOE)).toEqual({ doe: DOE, rev: 2 });
  expect(again.outlook("nobody")).toBeNull();
});

test("the diagnostic text tells what happened and holds no entry's content", async () => {
  const { farm, phone } = await setUp();
  phone.network = () => Promise.reject(new TypeError("no signal"));
  doe(farm, "Secretname");
  await farm.sync();
  expect(farm.diagnostics()).toContain("sync_later no_answer");
  expect(farm.diagnostics()).not.toContain("Secretname");
});

test("an app older than the farm asks for is told, and still records and sends", async () => {
  const { farm, server } = await setUp();
  const honest = server.changes.bind(server);
  server.changes = (seq, rev, limit) => ({ ...honest(seq, rev, limit), min_app: "9.0.0" });
  await doe(farm).saved;
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(farm.updateNeeded).toBe(true);
  await farm.sync();
  expect(server.log).toHaveLength(1);
});

test("each person and farm has a database of its own", async () => {
  const { phone, farm } = await setUp();
  await doe(farm).saved;
  const names = (await phone.factory.databases()).map(({ name }) => name).sort();
  expect(names).toEqual([`mangerline/${ADA}/${FARM}`, "mangerline/phone"]);
});

test("once there is something to lose, the browser is asked not to clear it, once", async () => {
  const phone = new TestPhone();
  let asked = 0;
  const farm = await openFarm(phone, { env: phone.env({ persist: () => Promise.resolve(++asked > 0) }) });
  expect(asked).toBe(0);
  await doe(farm).saved;
  await score(farm).saved;
  expect(asked).toBe(1);
  expect(farm.diagnostics()).toContain("persist granted");
});
