import { beforeEach, expect, test } from "vitest";
import type { Farm } from "../../src/core/phone/farm.ts";
import type { Entry } from "../../src/core/phone/sync/wire.ts";
import { BEA, DOE, doe, kinds, openFarm, score, setUp, type Setup } from "../support/farm.ts";
import { json } from "../support/fake_server.ts";
import { TestPhone } from "../support/phone.ts";

/** Entries the farm's server has and does not count: a link that came before what it names, a raise by a helper. */
let set: Setup;
let other: Farm;
const scores = (farm: Farm) => farm.view.does[DOE]!.scores.map(([, x100]) => x100);
const WHY = { code: "not_allowed", why: "The owner or family takes that back." };

beforeEach(async () => {
  set = await setUp();
  await doe(set.farm).saved;
  await score(set.farm, 325).saved;
  await set.farm.sync();
  other = await openFarm(new TestPhone(7), { env: { ...new TestPhone(7).env(), fetch: set.server.fetch } });
});

/** As the server says it: the count of what was said moves, and each phone behind it is told. */
function stands(place: number, st: Entry["st"]): void {
  const { server } = set;
  const { code: _code, why: _why, ...entry } = server.log[place]!;
  server.log[place] = { ...entry, st, ...(st === "refused" && WHY) };
  [server.again, server.outlook_rev] = [[server.log[place]], server.outlook_rev + 1];
}

/** The next entry goes into the log, and does not count. */
function refuseAtOnce(): void {
  const { server } = set;
  const honest = server.take.bind(server);
  server.take = (ev) => {
    const { seq, receipt } = honest(ev);
    server.log[seq! - 1] = { ...server.log[seq! - 1]!, st: "refused", ...WHY };
    server.take = honest;
    return { id: ev.id, st: "rejected", seq: seq!, receipt: receipt!, ...WHY };
  };
}

test("what was ruled out counts on no phone, and whoever recorded it is told why", async () => {
  await other.sync();
  expect(scores(other)).toEqual([325]);
  stands(1, "refused");
  await other.sync();
  await set.farm.sync();
  expect([scores(other), other.needsYou()]).toEqual([[], []]);
  expect(scores(set.farm)).toEqual([]);
  expect(set.farm.needsYou()).toMatchObject([{ event: { kind: "score" }, ...WHY }]);
  expect(set.farm.status).toMatchObject({ kind: "needs_you", n: 1 });
});

test("it is told once, and stays told when the app is opened again", async () => {
  stands(1, "refused");
  await set.farm.sync();
  await set.farm.sync();
  set.farm.close();
  const again = await openFarm(set.phone);
  expect([scores(again), again.needsYou().length]).toEqual([[], 1]);
  await again.discard(again.needsYou().map(({ event }) => event.id));
  await again.sync();
  expect([scores(again), again.needsYou(), again.status.kind]).toEqual([[], [], "sent"]);
});

test("a phone that has not had it yet gets it in its place, keeps no hold of it, and misses nothing after it", async () => {
  const { farm, server } = set;
  await other.sync();
  const starts = () => server.requests.filter(({ path }) => path.includes("/bootstrap")).length;
  const before = starts();
  refuseAtOnce();
  await score(farm, 350).saved;
  await farm.sync();
  await other.sync();
  expect([scores(other), other.needsYou(), starts()]).toEqual([[325], [], before]);
  await score(farm, 375).saved;
  await farm.sync();
  await other.sync();
  expect([scores(other), starts()]).toEqual([[325, 375], before]);
});

test("what counts again is back on every phone", async () => {
  await other.sync();
  stands(1, "refused");
  await other.sync();
  await set.farm.sync();
  stands(1, "ok");
  await other.sync();
  await set.farm.sync();
  expect([scores(other), scores(set.farm)]).toEqual([[325], [325]]);
  expect([set.farm.needsYou(), set.farm.status.kind]).toEqual([[], "sent"]);
});

test("refused at once, though the log has it: nothing counts, nothing is sent again, the reason stands", async () => {
  const { farm } = set;
  refuseAtOnce();
  await score(farm, 350).saved;
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect([scores(farm), kinds(farm), farm.needsYou().length]).toEqual([[325], [], 1]);
  expect(farm.needsYou()[0]).toMatchObject(WHY);
});

test("a void that came before what it names and is ruled out takes nothing back, here or on a new phone", async () => {
  const { farm, server } = set;
  const looked = JSON.parse(JSON.stringify(server.log[1]!)) as Entry;
  const of = { ...looked.ev, id: "66666666-6666-4666-8666-666666666666", author: BEA, device: BEA };
  const about = { kind: "void", data: { of: of.id }, hlc: "fffffffffffe-0000-00000000" };
  const early = { ...of, id: "77777777-7777-4777-8777-777777777777", ...about };
  server.log.push({ seq: 3, st: "parked", eff: null, ev: early });
  await farm.sync();
  expect(farm.view.parked).toEqual([early.id]);
  server.log.push({ seq: 4, st: "ok", eff: null, ev: of });
  stands(2, "refused");
  await farm.sync();
  await other.sync();
  expect([scores(farm), scores(other)]).toEqual([[325, 325], [325, 325]]);
  expect([farm.view.parked, other.view.parked]).toEqual([[], []]);
});

test("for whom somebody else seems to send, it waits and says so; it is not refused for good", async () => {
  const { farm, server } = set;
  await score(farm, 350).saved;
  const [entry] = farm.pending();
  const answer = { id: entry!.event.id, st: "rejected", code: "not_seated", why: "Sign in on this phone once." };
  const reply = { answers: [answer], changes: server.changes(2, 0, 9), epoch: 1, min_app: "", now: 0 };
  server.next.push(() => json(200, reply));
  expect(await farm.sync()).toEqual({ kind: "locked", why: "other_person" });
  expect([kinds(farm), farm.needsYou(), farm.status.kind]).toEqual([["score"], [], "locked"]);
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect([kinds(farm), scores(farm)]).toEqual([[], [325, 350]]);
});
