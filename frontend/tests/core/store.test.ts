import { expect, test, vi } from "vitest";
import { StoreError, storeError } from "../../src/core/phone/store/errors.ts";
import { Connection } from "../../src/core/phone/store/connection.ts";
import { databaseName, FarmStore } from "../../src/core/phone/store/farm_store.ts";
import { FARM_MIGRATIONS } from "../../src/core/phone/store/migrations.ts";
import { Phone } from "../../src/core/phone/store/phone.ts";
import type { EventRow } from "../../src/core/phone/store/rows.ts";
import { outboxRow } from "../../src/core/phone/store/settle.ts";
import { withinTime } from "../../src/core/phone/store/timer.ts";
import { ADA, BEA, FARM } from "../support/farm.ts";
import { TestPhone } from "../support/phone.ts";

const timers = {
  setTimer: (run: () => void, ms: number) => setTimeout(run, ms),
  clearTimer: (t: unknown) => clearTimeout(t as number),
};

function row(id: string): EventRow {
  const text = JSON.stringify({ id, entered: 5, author: ADA, device: "d", hlc: `${id}-h` });
  return { id, text, st: "waiting", seq: 0, eff: null, own: true, aged_from: 5 };
}

async function save(store: FarmStore, id: string) {
  await store.saveRecorded(row(id), outboxRow(row(id)), { ms: 1, count: 0 });
}

test("a call that never ends becomes a timeout", async () => {
  const never = new Promise<never>(() => undefined);
  await expect(withinTime(never, 5, timers)).rejects.toMatchObject({ code: "timeout" });
});

test.each([
  ["QuotaExceededError", "quota"], ["InvalidStateError", "lost"], ["UnknownError", "lost"], ["AbortError", "lost"],
  ["DataError", "failed"],
])("%s is told as %s", (name, code) => {
  expect(storeError(new DOMException("", name)).code).toBe(code);
});

test("a failure that is no error object is still told", () => {
  expect(storeError("odd").code).toBe("failed");
  expect(storeError(new StoreError("quota")).code).toBe("quota");
});

test("a lost connection is opened again and the write repeated once", async () => {
  const phone = new TestPhone();
  const store = new FarmStore(ADA, FARM, phone.env());
  await save(store, "a");
  const open = await indexedDbOf(store);
  open.close();
  await save(store, "b");
  expect((await store.load()).events.map(({ id }) => id)).toEqual(["a", "b"]);
});

async function indexedDbOf(store: FarmStore): Promise<{ close(): void }> {
  let db: { close(): void } | undefined;
  await store.connection.read(["meta"], async (tx) => void (db = tx.db));
  return db!;
}

test("a write that hangs is given up, and its transaction undone before the second try", async () => {
  vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
  try {
    const phone = new TestPhone();
    const connection = new Connection({
      name: "hangs", env: phone.env({ setTimer: setTimeout, clearTimer: timers.clearTimer }),
      migrations: FARM_MIGRATIONS,
    });
    let tries = 0;
    const done = connection.write(["meta"], async (tx) => {
      tries++;
      await tx.objectStore("meta").put({ key: `try${tries}`, value: 1 });
      if (tries === 1) await keepBusy(tx.objectStore("meta"));
    });
    for (let i = 0; i < 40; i++) {
      await new Promise((next) => setImmediate(next));
      await vi.advanceTimersByTimeAsync(200);
    }
    await done;
    expect(tries).toBe(2);
    expect(await connection.read(["meta"], (tx) => tx.objectStore("meta").getAll())).toMatchObject([
      { key: "born" }, { key: "try2" },
    ]);
  } finally {
    vi.useRealTimers();
  }
});

/** Holds a transaction open for ever, as a frozen page does. */
async function keepBusy(store: { get(key: string): Promise<unknown> }): Promise<void> {
  for (;;) await store.get("nothing");
}

test("a full disk is told as such, and nothing of the write stays", async () => {
  const phone = new TestPhone();
  const store = new FarmStore(ADA, FARM, phone.env());
  await save(store, "a");
  const full = store.connection.write(["events"], async (tx) => {
    await tx.objectStore("events").put(row("b"));
    throw new DOMException("full", "QuotaExceededError");
  });
  await expect(full).rejects.toMatchObject({ code: "quota" });
  expect((await store.load()).events.map(({ id }) => id)).toEqual(["a"]);
});

test("a newer app may upgrade the database: this one lets go and says that it is outdated", async () => {
  const phone = new TestPhone();
  const outdated = vi.fn();
  const store = new FarmStore(ADA, FARM, phone.env());
  store.onOutdated = outdated;
  await save(store, "a");
  const newer = new Connection({
    name: databaseName(ADA, FARM), env: phone.env(), migrations: [...FARM_MIGRATIONS, () => undefined],
  });
  expect(await newer.read(["events"], (tx) => tx.objectStore("events").getAll())).toMatchObject([{ id: "a" }]);
  expect(outdated).toHaveBeenCalledOnce();
  await expect(save(store, "b")).rejects.toMatchObject({ code: "closed" });
});

test("an upgrade keeps what the version before wrote", async () => {
  const phone = new TestPhone();
  const first = new FarmStore(ADA, FARM, phone.env());
  await save(first, "a");
  first.close();
  const added = (db: IDBDatabase) => void db.createObjectStore("photos");
  const newer = new Connection({
    name: databaseName(ADA, FARM), env: phone.env(), migrations: [...FARM_MIGRATIONS, added],
  });
  expect(await newer.read(["outbox"], (tx) => tx.objectStore("outbox").getAll())).toMatchObject([{ id: "a" }]);
});

test("outbox rows carry author, device and the exact text", async () => {
  const store = new FarmStore(ADA, FARM, new TestPhone().env());
  await save(store, "a");
  expect(await store.unsent()).toEqual([
    { id: "a", text: row("a").text, author: ADA, device: "d", hlc: "a-h", st: "waiting", code: "", why: "" },
  ]);
});

test("the stored clock never goes back", async () => {
  const store = new FarmStore(ADA, FARM, new TestPhone().env());
  await store.saveRecorded(row("a"), outboxRow(row("a")), { ms: 9, count: 1 });
  await store.saveRecorded(row("b"), outboxRow(row("b")), { ms: 3, count: 0 });
  expect((await store.load()).meta.clock).toEqual({ ms: 9, count: 1 });
});

test("one phone has one device id, however many ask at once", async () => {
  const phone = new TestPhone();
  const ids = await Promise.all([1, 2, 3].map(() => new Phone(phone.env()).device()));
  expect(new Set(ids).size).toBe(1);
  expect(await new Phone(phone.env()).device()).toBe(ids[0]);
});

test("who used the phone last is kept, and can be cleared", async () => {
  const phone = new Phone(new TestPhone().env());
  expect(await phone.lastUse()).toBeNull();
  const use = { person: { id: ADA, name: "Ada" }, farms: [], farm: FARM };
  await phone.remember(use);
  expect(await phone.lastUse()).toEqual(use);
  await phone.forget(ADA);
  expect(await phone.lastUse()).toBeNull();
});

test("everybody who signed in on the phone is known until they sign out, in the order they came", async () => {
  const phone = new Phone(new TestPhone().env());
  const use = (id: string, farm = FARM) => ({ person: { id, name: id }, farms: [], farm });
  await phone.remember(use(ADA));
  await phone.remember(use(BEA));
  await phone.remember(use(ADA, "other"));
  expect(await phone.users()).toEqual([use(ADA, "other"), use(BEA)]);
  await phone.forget(ADA);
  expect([await phone.users(), await phone.lastUse()]).toEqual([[use(BEA)], null]);
});
