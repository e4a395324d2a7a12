import { beforeEach, expect, test } from "vitest";
import type { Farm } from "../../src/core/phone/farm.ts";
import { ADA, BEA, DOE, doe, kinds, openFarm, score, setUp, type Setup } from "../support/farm.ts";

/** Two people on one phone: Ada has it, Bea takes over. Both are known to the server, and both are on the farm. */
let set: Setup;
const offline = () => Promise.reject(new TypeError("no signal"));
const authors = () => set.server.log.map(({ ev }) => [ev.kind, ev.author]);

beforeEach(async () => {
  set = await setUp();
  set.server.people = [{ id: ADA, name: "Ada", role: "owner" }, { id: BEA, name: "Bea", role: "helper" }];
  set.server.seats = new Map([[ADA, "Ada"], [BEA, "Bea"]]);
  await doe(set.farm).saved;
  await set.farm.sync();
});

function beaTakesOver(): Promise<Farm> {
  return openFarm(set.phone, { person: BEA, sharers: [ADA], after: ADA });
}

test("whoever takes the phone over, with no signal, sees what it has seen", async () => {
  set.phone.network = offline;
  const bea = await beaTakesOver();
  expect(bea.view).toEqual(set.farm.view);
  expect(bea.nameOf(ADA)).toBe("Ada");
  expect([kinds(bea), bea.status.kind]).toEqual([[], "sent"]);
});

test("what the last one has not sent counts, is told as only here, and stays hers", async () => {
  set.phone.network = offline;
  await score(set.farm, 325).saved;
  const bea = await beaTakesOver();
  expect(bea.view.does[DOE]!.scores[0]!.slice(1, 3)).toEqual([325, ADA]);
  expect(bea.status).toMatchObject({ kind: "waiting", n: 1 });
  expect(kinds(bea)).toEqual([]);
  expect(bea.ofSharers().map(({ kind, author }) => [kind, author])).toEqual([["score", ADA]]);
});

test("what is written over another one's word, with the clock put right in between, stands over it", async () => {
  (await beaTakesOver()).close();
  set.phone.network = offline;
  set.phone.now_ms += 3_600_000;
  await set.farm.record("doe", DOE, { f: { name: "Hazel" }, base: {} }).saved;
  set.phone.now_ms -= 3_600_000;
  const bea = await beaTakesOver();
  const { f, stamp } = bea.view.does[DOE]!;
  expect(f["name"]).toBe("Hazel");
  await bea.record("doe", DOE, { f: { name: "Fern" }, base: { name: stamp["name"]! } }).saved;
  expect(bea.view.does[DOE]!.f["name"]).toBe("Fern");
});

test("where there is a signal each entry goes out under the name of whoever recorded it", async () => {
  set.phone.network = offline;
  await score(set.farm, 325).saved;
  set.farm.close();
  const bea = await beaTakesOver();
  await score(bea, 300).saved;
  set.phone.network = set.server.fetch;
  expect(await bea.sync()).toEqual({ kind: "done" });
  expect(authors()).toEqual([["doe", ADA], ["score", BEA], ["score", ADA]]);
  expect(bea.view.does[DOE]!.scores).toHaveLength(2);
  expect([bea.status.kind, bea.ofSharers()]).toEqual(["sent", []]);
  expect(set.server.person!.id).toBe(BEA);
  const pushes = set.server.requests.filter(({ path }) => path.endsWith("/events"));
  const mixed = pushes.filter(({ body }) => body.includes(ADA) && body.includes(BEA));
  expect(mixed).toEqual([]);
});

test("told to wait with what another one left, the phone asks for nothing more until then", async () => {
  set.phone.network = offline;
  await score(set.farm, 325).saved;
  set.farm.close();
  const bea = await beaTakesOver();
  const asked: string[] = [];
  set.phone.network = (path, init) => {
    asked.push(path);
    const full = new Response("{}", { status: 503, headers: { "X-Mangerline": "1", "Retry-After": "40" } });
    return path.endsWith("/events") ? Promise.resolve(full) : set.server.fetch(path, init);
  };
  expect(await bea.sync()).toEqual({ kind: "later", why: "busy", after_ms: 40_000 });
  expect(asked.at(-1)).toMatch(/events$/);
  expect(bea.status).toMatchObject({ kind: "waiting", n: 1 });
  set.phone.network = set.server.fetch;
  expect(await bea.sync()).toEqual({ kind: "done" });
  expect(authors()).toEqual([["doe", ADA], ["score", ADA]]);
});

test("what is recorded while the other's entries go out is sent too, and then nothing is said to be under way", async () => {
  set.phone.network = offline;
  await score(set.farm, 325).saved;
  set.farm.close();
  const bea = await beaTakesOver();
  let meanwhile: Promise<void> | null = null;
  set.phone.network = async (path, init) => {
    const reply = await set.server.fetch(path, init);
    if (path.endsWith("/events")) await (meanwhile ??= score(bea, 300).saved);
    return reply;
  };
  expect(await bea.sync()).toEqual({ kind: "done" });
  expect(authors()).toEqual([["doe", ADA], ["score", ADA], ["score", BEA]]);
  expect(bea.status).toMatchObject({ kind: "sent", n: 0 });
});

test("who must sign in again first is not sent for: her entries wait, and the other's go", async () => {
  set.phone.network = offline;
  await score(set.farm, 325).saved;
  const bea = await beaTakesOver();
  await score(bea, 300).saved;
  set.server.seats.delete(ADA);
  set.phone.network = set.server.fetch;
  expect(await bea.sync()).toEqual({ kind: "done" });
  expect(authors()).toEqual([["doe", ADA], ["score", BEA]]);
  expect(bea.status).toMatchObject({ kind: "waiting", n: 1 });
  const before = set.server.requests.length;
  await bea.sync();
  expect(set.server.requests.length - before).toBe(1);
});

const SHUT = ["pin_needed", "password_needed"];
test.each(SHUT)("whose place is shut (%s) is not sent for: what is hers waits for her", async (code) => {
  set.phone.network = offline;
  await score(set.farm, 325).saved;
  set.farm.close();
  const bea = await beaTakesOver();
  await score(bea, 300).saved;
  let open = false;
  const shut = () => new Response(JSON.stringify({ code }), { status: 403, headers: { "X-Mangerline": "1" } });
  set.phone.network = (path, init) => {
    const takes = path === "/api/session" && init.method === "PUT" && String(init.body).includes(ADA);
    return takes && !open ? Promise.resolve(shut()) : set.server.fetch(path, init);
  };
  expect(await bea.sync()).toEqual({ kind: "done" });
  expect(authors()).toEqual([["doe", ADA], ["score", BEA]]);
  expect([bea.needsYou(), bea.status]).toMatchObject([[], { kind: "waiting", n: 1 }]);
  bea.close();
  const ada = await openFarm(set.phone, { person: ADA, sharers: [BEA], after: BEA });
  expect([await ada.sync(), kinds(ada)]).toEqual([{ kind: "locked", why: "other_person" }, ["score"]]);
  open = true;
  expect(await ada.sync()).toEqual({ kind: "done" });
  expect(authors()).toEqual([["doe", ADA], ["score", BEA], ["score", ADA]]);
});

test("whoever has no seat of her own is locked, and logging goes on", async () => {
  set.server.seats.delete(BEA);
  const bea = await beaTakesOver();
  await score(bea, 300).saved;
  expect(await bea.sync()).toEqual({ kind: "locked", why: "other_person" });
  expect(authors()).toEqual([["doe", ADA]]);
  expect(kinds(bea)).toEqual(["score"]);
});

test("with no signal the one who takes over is not told to sign in: her entries wait, and go when there is one", async () => {
  set.phone.network = offline;
  const bea = await openFarm(set.phone, { person: BEA, sharers: [ADA], after: ADA, session: set.farm.session });
  await score(bea, 300).saved;
  expect(await bea.sync()).toMatchObject({ kind: "later", why: "no_answer" });
  expect(bea.status).toMatchObject({ kind: "waiting", n: 1 });
  set.phone.network = set.server.fetch;
  expect(await bea.sync()).toEqual({ kind: "done" });
  expect(authors()).toEqual([["doe", ADA], ["score", BEA]]);
});

test("own entries that wait survive taking the phone over again, and what was seen since is there", async () => {
  set.phone.network = offline;
  const bea = await beaTakesOver();
  await score(bea, 275).saved;
  bea.close();
  set.phone.network = set.server.fetch;
  await score(set.farm, 350).saved;
  await set.farm.sync();
  set.phone.network = offline;
  const again = await beaTakesOver();
  expect(again.view.does[DOE]!.scores.map(([, x100]) => x100).sort()).toEqual([275, 350]);
  expect(kinds(again)).toEqual(["score"]);
});

test("somebody who is no member of the farm any more is shown nothing new", async () => {
  set.server.people = [{ id: ADA, name: "Ada", role: "owner" }];
  await set.farm.sync();
  const bea = await beaTakesOver();
  expect(bea.view.does).toEqual({});
});

test("after the server was put back to an earlier day, nothing of the one history is mixed into the other", async () => {
  const bea = await beaTakesOver();
  bea.close();
  await score(set.farm, 350).saved;
  set.server.epoch = 2;
  await set.farm.sync();
  set.phone.network = offline;
  const again = await beaTakesOver();
  expect(again.view.does[DOE]!.scores).toEqual([]);
  set.phone.network = set.server.fetch;
  await again.sync();
  expect(again.view.does[DOE]!.scores).toHaveLength(1);
});
