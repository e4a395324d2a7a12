import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { expect, test } from "vitest";
import { asText } from "../../src/core/phone/by_file.ts";
import { FarmStore } from "../../src/core/phone/store/farm_store.ts";
import { StoreError } from "../../src/core/phone/store/errors.ts";
import { Phone } from "../../src/core/phone/store/phone.ts";
import { Connection } from "../../src/core/phone/store/connection.ts";
import { wipe_person } from "../../src/core/phone/store/wipe.ts";
import { notices } from "../../src/core/phone/waits.ts";
import { ADA, BEA, DOE, doe, FARM, kinds, openFarm, score, setUp } from "../support/farm.ts";
import { FakeServer } from "../support/fake_server.ts";
import { TestPhone } from "../support/phone.ts";

const offline = () => Promise.reject(new TypeError("no signal"));
const NAMES = { who: "Ada", farm_name: "Combe" };

function deleted(phone: TestPhone, name: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const request = phone.factory.deleteDatabase(name);
    request.onsuccess = () => resolve();
    request.onerror = () => reject(request.error!);
  });
}

const store = (phone: TestPhone) => new FarmStore(ADA, FARM, phone.env());
const settle = () => new Promise((done) => setTimeout(done, 400));

test("the database is deleted under the open app: what waited is written again and sent, and nothing else is said", async () => {
  const { phone, server, farm } = await setUp();
  await doe(farm).saved;
  await farm.sync();
  phone.network = offline;
  await score(farm, 325).saved;
  await deleted(phone, store(phone).name);
  await settle();
  expect(farm.outdated).toBe(false);
  expect((await store(phone).unsent()).map(({ text }) => JSON.parse(text).kind)).toEqual(["score"]);
  expect([farm.status.kind, farm.status.n]).toEqual(["waiting", 1]);
  farm.close();
  const again = await openFarm(phone);
  expect([kinds(again), again.view.does[DOE]!.scores.length]).toEqual([["score"], 1]);
  phone.network = server.fetch;
  expect(await again.sync()).toEqual({ kind: "done" });
  expect(server.log.map(({ ev }) => ev.kind)).toEqual(["doe", "score"]);
  expect(notices(phone.env())).toEqual([]);
});

test("killed as storage had just been filled again: nothing is called lost that is there", async () => {
  const { phone, farm } = await setUp();
  phone.network = offline;
  await doe(farm).saved;
  const before = phone.marks;
  await deleted(phone, store(phone).name);
  await settle();
  farm.close();
  phone.marks = before;
  const again = await openFarm(phone);
  expect([kinds(again), notices(phone.env())]).toEqual([["doe"], []]);
  again.close();
  phone.factory = new IDBFactory();
  await openFarm(phone);
  expect(notices(phone.env())).toMatchObject([{ what: "lost", n: 1 }]);
});

test("what another one left here is not written into hers when storage is filled again", async () => {
  const { phone, server, farm } = await setUp();
  server.people = [{ id: ADA, name: "Ada", role: "owner" }, { id: BEA, name: "Bea", role: "helper" }];
  await doe(farm).saved;
  await farm.sync();
  phone.network = offline;
  await score(farm, 325).saved;
  farm.close();
  const bea = await openFarm(phone, { person: BEA, sharers: [ADA], after: ADA });
  expect(bea.ofSharers()).toHaveLength(1);
  const hers = new FarmStore(BEA, FARM, phone.env());
  await deleted(phone, hers.name);
  await settle();
  const { events } = await hers.load();
  expect([events.length, events.filter(({ st }) => st === "waiting")]).toEqual([1, []]);
  expect(bea.view.does[DOE]!.scores).toHaveLength(1);
});

test("a database that is another one without a word is noticed before anything counts as sent", async () => {
  const phone = new TestPhone();
  let real: FarmStore | undefined;
  const now = new Proxy(phone.factory, { get: (_, key) => Reflect.get(phone.factory, key).bind(phone.factory) });
  const farm = await openFarm(phone, { env: phone.env({ indexedDB: now }), parts: { store: (it) => (real = it) } });
  const server = new FakeServer(ADA);
  phone.network = server.fetch;
  await doe(farm).saved;
  await farm.sync();
  await score(farm, 325).saved;
  // As when a browser empties it without telling the page.
  phone.factory = new IDBFactory();
  real!.connection.close();
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(server.log.map(({ ev }) => ev.kind)).toEqual(["doe", "score"]);
  expect([farm.status.kind, farm.view.does[DOE]!.scores.length]).toEqual(["sent", 1]);
  expect((await real!.load()).events).toHaveLength(2);
});

test("evicted with entries waiting: the next start says whose, how many, of what and when", async () => {
  const { phone, farm } = await setUp(1, { names: NAMES });
  phone.network = offline;
  await doe(farm).saved;
  phone.now_ms += 60_000;
  await score(farm).saved;
  farm.close();
  phone.factory = new IDBFactory();
  const again = await openFarm(phone, { names: NAMES });
  expect(notices(phone.env())).toMatchObject([
    {
      what: "lost", who: "Ada", farm_name: "Combe", person: ADA, farm: FARM, n: 2, since: phone.now_ms - 60_000,
      until: phone.now_ms, kinds: { doe: 1, score: 1 },
    },
  ]);
  await doe(again).saved;
  again.close();
  await openFarm(phone, { names: NAMES });
  expect(notices(phone.env())).toHaveLength(1);
});

test("what the server refused is gone with storage too, and is spoken of until she has let it go", async () => {
  const { phone, server, farm } = await setUp(1, { names: NAMES });
  server.refuse = () => "not_yours";
  await doe(farm).saved;
  await farm.sync();
  expect(farm.needsYou()).toHaveLength(1);
  expect(JSON.parse(phone.marks).waits[store(phone).name]).toMatchObject({ n: 1, kinds: { doe: 1 } });
  farm.close();
  phone.factory = new IDBFactory();
  const again = await openFarm(phone, { names: NAMES });
  expect(notices(phone.env())).toMatchObject([{ what: "lost", n: 1, kinds: { doe: 1 } }]);
  again.close();
});

test("what was sent before storage was emptied is missed by nobody", async () => {
  const { phone, farm } = await setUp(1, { names: NAMES });
  await doe(farm).saved;
  await farm.sync();
  expect(phone.marks).toBe("");
  farm.close();
  phone.factory = new IDBFactory();
  await openFarm(phone, { names: NAMES });
  expect(notices(phone.env())).toEqual([]);
});

test("who uses the phone, and whose farm is open, is written again beside it", async () => {
  const { phone, farm } = await setUp();
  const kept = new Phone(phone.env());
  const use = { person: { id: ADA, name: "Ada" }, farms: [], farm: FARM };
  await kept.remember(use);
  await kept.keepSeats([{ id: ADA, name: "Ada", pin: null }]);
  await kept.tried(ADA, 3);
  const before = await kept.known();
  await deleted(phone, "mangerline/phone");
  await settle();
  const after = new Phone(phone.env());
  expect(await after.known()).toEqual({ ...before, last: use, users: [use] });
  expect([before.device, await after.tries(ADA)]).toEqual([expect.any(String), 3]);
  farm.close();
});

test("another tab that was sooner to write it again knows better", async () => {
  const { phone, farm } = await setUp();
  const [kept, other] = [new Phone(phone.env()), new Phone(phone.env())];
  await kept.keepSeats([{ id: ADA, name: "Ada", pin: null }]);
  await deleted(phone, "mangerline/phone");
  await other.keepSeats([]);
  await settle();
  expect((await other.known()).seats).toEqual([]);
  farm.close();
});

test("what another tab wiped is not written again", async () => {
  const { phone, server, farm: before } = await setUp();
  before.close();
  const tabs: BroadcastChannel[] = [];
  const env = phone.env({ channel: (name) => (tabs.push(new BroadcastChannel(name)), tabs.at(-1)!) });
  const farm = await openFarm(phone, { env });
  await doe(farm).saved;
  await farm.sync();
  await wipe_person(env, { person: ADA, farms: [FARM], of_others: [] }, false);
  await settle();
  expect([farm.removed, farm.view.does]).toEqual([true, {}]);
  expect((await phone.factory.databases()).map(({ name }) => name)).toEqual(["mangerline/phone"]);
  expect(server.log).toHaveLength(1);
  tabs.forEach((tab) => tab.close());
});

function refusing(phone: TestPhone): IDBFactory {
  const factory = phone.factory;
  return new Proxy(factory, {
    get: (of, key) => key === "open" ? () => { throw new DOMException("no", "UnknownError"); } : Reflect.get(of, key),
  });
}

test("storage refused at the start: said in red, logged in memory, sent at once, and the farm is there", async () => {
  const { phone, server, farm } = await setUp();
  await doe(farm).saved;
  await farm.sync();
  farm.close();
  phone.network = offline;
  const env = phone.env({ indexedDB: refusing(phone) });
  const private_one = await openFarm(phone, { env });
  const { saved } = score(private_one, 325);
  await expect(saved).rejects.toMatchObject({ name: "Error" });
  expect(private_one.status).toMatchObject({ kind: "not_saved", n: 1 });
  expect(asText(private_one.byFile)).toContain('"score"');
  phone.network = server.fetch;
  expect(await private_one.sync()).toEqual({ kind: "done" });
  expect(server.log.map(({ ev }) => ev.kind)).toEqual(["doe", "score"]);
  expect(private_one.view.does[DOE]!.scores).toHaveLength(1);
  expect([private_one.status.kind, private_one.pending()]).toEqual(["not_saved", []]);
  const before = server.requests.length;
  score(private_one, 300).saved.catch(() => undefined);
  await settle();
  expect(await private_one.sync()).toEqual({ kind: "done" });
  expect(server.log).toHaveLength(3);
  expect(server.requests.slice(before).filter(({ path }) => path.endsWith("/bootstrap"))).toEqual([]);
});

test("with storage refused, another part of the farm is fetched once, and not with every answer", async () => {
  const { phone, server, farm: stored } = await setUp();
  await stored.sync();
  stored.close();
  const farm = await openFarm(phone, { env: phone.env({ indexedDB: refusing(phone) }) });
  expect(await farm.sync()).toEqual({ kind: "done" });
  const honest = server.changes.bind(server);
  server.changes = (...asked) => ({ ...honest(...asked), scope: "part" });
  const before = server.requests.length;
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(server.requests.slice(before).filter(({ path }) => path.endsWith("/bootstrap"))).toHaveLength(1);
});

test("storage that takes entries again has all of them, and nothing twice", async () => {
  const { phone, server } = await setUp();
  let refused = true;
  const gate = new Proxy(phone.factory, {
    get: (of, key) => (...what: unknown[]) => {
      if (key === "open" && refused) throw new DOMException("no", "UnknownError");
      return (Reflect.get(of, key) as (...args: unknown[]) => unknown).apply(of, what);
    },
  });
  const farm = await openFarm(phone, { env: phone.env({ indexedDB: gate }) });
  doe(farm).saved.catch(() => undefined);
  score(farm).saved.catch(() => undefined);
  await settle();
  await farm.sync();
  score(farm, 275).saved.catch(() => undefined);
  await settle();
  refused = false;
  await farm.sync();
  expect(farm.status.kind).toBe("sent");
  expect(server.log.map(({ ev }) => ev.kind)).toEqual(["doe", "score", "score"]);
  farm.close();
  expect((await openFarm(phone)).view.does[DOE]!.scores).toHaveLength(2);
});

test("a full phone lets go of what can be had again, and the entry is kept", async () => {
  const { phone, farm } = await setUp();
  await doe(farm).saved;
  farm.close();
  const photos = new Connection({
    name: `mangerline/photos/${FARM}`, env: phone.env(),
    migrations: [(db) => void db.createObjectStore("meta", { keyPath: "key" })],
  });
  await photos.write(["meta"], async (tx) => void (await tx.objectStore("meta").put({ key: "a", value: "data:" })));
  photos.close();
  const full = (real: FarmStore) => {
    const save = real.saveRecorded.bind(real);
    let room = false;
    const drop = phone.factory.deleteDatabase.bind(phone.factory);
    phone.factory.deleteDatabase = (name) => ((room = true), drop(name));
    real.saveRecorded = (...row) => (room ? save(...row) : Promise.reject(new StoreError("quota")));
    return real;
  };
  const tight = await openFarm(phone, { parts: { store: full } });
  await score(tight).saved;
  expect(tight.status.kind).toBe("waiting");
  expect((await phone.factory.databases()).map(({ name }) => name)).not.toContain(`mangerline/photos/${FARM}`);
});

test("a phone that stays full keeps the entry in memory, says so, and sends it", async () => {
  const full = (real: FarmStore) => {
    real.saveRecorded = () => Promise.reject(new StoreError("quota"));
    return real;
  };
  const { server, farm } = await setUp(1, { parts: { store: full } });
  await expect(doe(farm).saved).rejects.toMatchObject({ code: "quota" });
  expect(farm.status).toMatchObject({ kind: "not_saved", n: 1 });
  expect(asText(farm.byFile)).toContain('"doe"');
  await farm.sync();
  expect(server.log.map(({ ev }) => ev.kind)).toEqual(["doe"]);
});
