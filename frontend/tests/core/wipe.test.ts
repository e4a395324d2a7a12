import { expect, test } from "vitest";
import { FarmStore } from "../../src/core/phone/store/farm_store.ts";
import { notices } from "../../src/core/phone/waits.ts";
import { wipe_person } from "../../src/core/phone/store/wipe.ts";
import { json } from "../support/fake_server.ts";
import { ADA, BEA, doe, FARM, kinds, openFarm, score, setUp, type Setup } from "../support/farm.ts";
import type { TestPhone } from "../support/phone.ts";

const names = async (phone: TestPhone) => (await phone.factory.databases()).map(({ name }) => name).sort();
const HERS = `mangerline/${ADA}/${FARM}`;

/** From here on the server knows Ada as somebody who is on the farm no more. */
function remove({ server, phone }: Setup): string[] {
  const handed: string[] = [];
  const gone = { code: "removed", message: "You are no longer on this farm.", where: "" };
  phone.network = async (path, init) => {
    if (path.includes("/api/session")) return server.fetch(path, init);
    if (!path.endsWith("/events")) return json(403, gone);
    const { events } = JSON.parse(init.body as string) as { events: { id: string; kind: string }[] };
    handed.push(...events.map(({ kind }) => kind));
    return json(200, {
      removed: true, answers: events.map(({ id }) => ({ id, st: "rejected", code: "removed", why: "" })), now: 0,
    });
  };
  return handed;
}

async function atWork(): Promise<Setup> {
  const set = await setUp(1, { names: { who: "Ada", farm_name: "Combe" } });
  await doe(set.farm).saved;
  await set.farm.sync();
  return set;
}

test("whoever is taken off the farm hands in what waits, and then nothing of it is on the phone", async () => {
  const set = await atWork();
  await score(set.farm).saved;
  const handed = remove(set);
  expect(await set.farm.sync()).toEqual({ kind: "removed" });
  expect(handed).toEqual(["score"]);
  expect([set.farm.removed, set.farm.view.does]).toEqual([true, {}]);
  expect(await names(set.phone)).not.toContain(HERS);
  expect(notices(set.phone.env())).toMatchObject([{ what: "removed", farm_name: "Combe", who: "Ada", n: 0 }]);
});

test("what the server could not keep for the owner stays, and so does the farm, until it can", async () => {
  const set = await atWork();
  await score(set.farm).saved;
  await score(set.farm, 275).saved;
  const handed = remove(set);
  const whole = set.phone.network;
  let room = 1;
  set.phone.network = async (path, init) => {
    if (!path.endsWith("/events")) return whole(path, init);
    const body = JSON.parse(init.body as string) as { events: unknown[] };
    const taken = body.events.slice(0, room);
    room -= taken.length;
    if (body.events.length && !taken.length) return json(503, { code: "busy" }, { "Retry-After": "600" });
    return whole(path, { ...init, body: JSON.stringify({ ...body, events: taken }) });
  };
  for (let i = 0; i < 2; i++) {
    expect(await set.farm.sync()).toEqual({ kind: "later", why: "busy", after_ms: 600_000 });
    expect([set.farm.removed, handed.length, set.farm.pending().length]).toEqual([false, 1, 1]);
  }
  room = 1;
  expect(await set.farm.sync()).toEqual({ kind: "removed" });
  expect(handed).toEqual(["score", "score"]);
  expect(notices(set.phone.env())).toMatchObject([{ what: "removed", n: 0 }]);
});

test("a phone that has not fetched the farm yet hands in what was recorded there all the same", async () => {
  const set = await setUp(1, { names: { who: "Ada", farm_name: "Combe" } });
  await doe(set.farm).saved;
  const handed = remove(set);
  expect(await set.farm.sync()).toEqual({ kind: "removed" });
  expect(handed).toEqual(["doe"]);
  expect(await names(set.phone)).not.toContain(HERS);
  expect(notices(set.phone.env())).toMatchObject([{ what: "removed", n: 0 }]);
});

test("with nothing waiting the next look at the farm is enough", async () => {
  const set = await atWork();
  expect(remove(set)).toEqual([]);
  expect(await set.farm.sync()).toEqual({ kind: "removed" });
  expect(await names(set.phone)).not.toContain(HERS);
});

test("what nobody could be given any more stays to be saved, and nothing else of the farm", async () => {
  const set = await atWork();
  await score(set.farm).saved;
  set.phone.network = async (path, init) =>
    path.includes("/api/session") ? set.server.fetch(path, init) : json(403, { code: "removed" });
  expect(await set.farm.sync()).toEqual({ kind: "removed" });
  expect(notices(set.phone.env())).toMatchObject([{ what: "removed", n: 1 }]);
  const left = await new FarmStore(ADA, FARM, set.phone.env()).load();
  expect(left.outbox).toHaveLength(1);
  expect([left.events.length, left.outlooks, left.meta.people, left.meta.epoch]).toEqual([1, [], undefined, undefined]);
});

test("taken off behind the back of a server that was put back, she hands in what it has lost, once, and says it was taken", async () => {
  const set = await atWork();
  await score(set.farm, 325).saved;
  await set.farm.sync();
  const pushes: { events: { kind: string }[]; before?: Record<string, unknown> }[] = [];
  set.phone.network = async (path, init) => {
    if (path.includes("/api/session")) return set.server.fetch(path, init);
    if (!path.endsWith("/events")) return json(403, { code: "removed", message: "", where: "" });
    const body = JSON.parse(init.body as string) as { events: { id: string; kind: string }[] };
    pushes.push(body);
    const answers = body.events.map(({ id }) => ({ id, st: "ok", seq: 1 }));
    return json(200, { removed: true, answers, epoch: 7, now: 0 });
  };
  expect(await set.farm.sync()).toEqual({ kind: "removed" });
  const sent = pushes.filter(({ events }) => events.length);
  expect(sent.map(({ events }) => events.map(({ kind }) => kind))).toEqual([["doe", "score"]]);
  expect(Object.keys(sent[0]!.before ?? {})).toHaveLength(2);
  expect(notices(set.phone.env())).toMatchObject([{ what: "removed", n: 0 }]);
});

test("nothing of it goes before the server has said in which history it is", async () => {
  const set = await atWork();
  set.phone.network = async (path, init) => {
    if (path.includes("/api/session")) return set.server.fetch(path, init);
    if (path.endsWith("/events")) throw new TypeError("no signal");
    return json(403, { code: "removed", message: "", where: "" });
  };
  expect(await set.farm.sync()).toMatchObject({ kind: "later" });
  expect(set.farm.removed).toBe(false);
});

test.each([401, 404])("a %i takes nothing from the phone", async (status) => {
  const set = await atWork();
  await score(set.farm).saved;
  set.phone.network = async (path, init) =>
    path.includes("/api/session") ? set.server.fetch(path, init) : json(status, { code: "sign_in" });
  expect(await set.farm.sync()).toMatchObject({ kind: "locked" });
  const { events, outbox } = await new FarmStore(ADA, FARM, set.phone.env()).load();
  expect([events.length, outbox.length, set.farm.removed]).toEqual([2, 1, false]);
});

test("of one who left entries here and is on the farm no more, nothing stays, and the other's farm does", async () => {
  const set = await atWork();
  set.server.people.push({ id: BEA, name: "Bea", role: "owner" });
  set.server.seats = new Map([[ADA, "Ada"], [BEA, "Bea"]]);
  await set.farm.sync();
  set.phone.network = () => Promise.reject(new TypeError("no signal"));
  await score(set.farm).saved;
  set.farm.close();
  const bea = await openFarm(set.phone, { person: BEA, sharers: [ADA], after: ADA });
  const gone = json.bind(null, 200);
  set.phone.network = async (path, init) => {
    const hers = set.server.person?.id === ADA && path.endsWith("/events");
    if (!hers) return set.server.fetch(path, init);
    const { events } = JSON.parse(init.body as string) as { events: { id: string }[] };
    return gone({ removed: true, answers: events.map(({ id }) => ({ id, st: "rejected", code: "removed" })) });
  };
  await bea.sync();
  expect(await names(set.phone)).toEqual([`mangerline/${BEA}/${FARM}`, "mangerline/phone"]);
  expect([bea.ofSharers(), Object.keys(bea.view.does).length]).toEqual([[], 1]);
});

test("signing out leaves nothing; or, where somebody wants it so, what she recorded and nothing else", async () => {
  const set = await atWork();
  await score(set.farm).saved;
  set.farm.close();
  const left = { person: ADA, farms: [FARM], of_others: [] };
  await wipe_person(set.phone.env(), left, true);
  const held = await new FarmStore(ADA, FARM, set.phone.env()).load();
  expect([held.outbox.length, held.events.length, held.outlooks.length]).toEqual([1, 1, 0]);
  const again = await openFarm(set.phone);
  expect(kinds(again)).toEqual(["score"]);
  again.close();
  await wipe_person(set.phone.env(), left, false);
  expect(await names(set.phone)).toEqual(["mangerline/phone"]);
  expect(set.phone.marks).toBe("");
});
