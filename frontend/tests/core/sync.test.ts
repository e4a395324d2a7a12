import { expect, test } from "vitest";
import { asText } from "../../src/core/phone/by_file.ts";
import { json, portal } from "../support/fake_server.ts";
import { ADA, BEA, DOE, doe, kinds, openFarm, score, setUp, twoScores } from "../support/farm.ts";

test("what was recorded without signal arrives once, in order, and the queue is empty", async () => {
  const { farm, server, phone } = await twoScores();
  phone.network = () => Promise.reject(new TypeError("no signal"));
  expect(await farm.sync()).toMatchObject({ kind: "later", why: "no_answer" });
  expect(kinds(farm)).toEqual(["doe", "score"]);
  phone.network = server.fetch;
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(server.log.map(({ ev }) => ev.kind)).toEqual(["doe", "score"]);
  expect(farm.status).toMatchObject({ kind: "sent", n: 0, at: phone.now_ms });
});

test("the bytes sent are the bytes stored", async () => {
  const { farm, server } = await twoScores();
  const texts = asText(farm.byFile).split("\n");
  await farm.sync();
  const push = server.requests.find(({ path }) => path.endsWith("/events"))!;
  for (const text of texts) expect(push.body).toContain(text);
});

test("a lost answer means sending again, and the farm has it once", async () => {
  const { farm, server, phone } = await twoScores();
  phone.network = async (path, init) => {
    const reply = await server.fetch(path, init);
    return path.endsWith("/events") ? Promise.reject(new TypeError("cut")) : reply;
  };
  expect((await farm.sync()).kind).toBe("later");
  expect(server.log).toHaveLength(2);
  expect(kinds(farm)).toHaveLength(2);
  phone.network = server.fetch;
  await farm.sync();
  expect(server.log).toHaveLength(2);
  expect(kinds(farm)).toEqual([]);
  expect(farm.view.does[DOE]!.scores).toHaveLength(1);
});

test("a portal's page is not an answer", async () => {
  const { farm, server } = await twoScores();
  server.next.push(portal);
  expect(await farm.sync()).toMatchObject({ kind: "later", why: "not_ours" });
  expect(kinds(farm)).toHaveLength(2);
});

test("our marker with an unreadable or foreign body is not an answer either", async () => {
  const { farm, server } = await twoScores();
  await farm.sync();
  await score(farm).saved;
  server.next.push(() => new Response("<html>", { headers: { "X-Mangerline": "1" } }));
  expect(await farm.sync()).toMatchObject({ why: "not_ours" });
  server.next.push(() => json(200, { answers: [] }));
  expect(await farm.sync()).toMatchObject({ why: "not_ours" });
  expect(kinds(farm)).toEqual(["score"]);
});

test("an expired sign-in locks the sender and nothing else", async () => {
  const { farm, server } = await twoScores();
  server.person = null;
  expect(await farm.sync()).toEqual({ kind: "locked", why: "sign_in" });
  await score(farm, 325).saved;
  expect(kinds(farm)).toEqual(["doe", "score", "score"]);
  expect(farm.status).toMatchObject({ kind: "locked", n: 3, why: "sign_in" });
  server.person = { id: ADA, name: "Ada" };
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(server.log).toHaveLength(3);
});

test("a 401 in the middle keeps what was not answered", async () => {
  const { farm, server } = await twoScores();
  await farm.sync();
  await score(farm).saved;
  server.next.push(() => json(401, { code: "sign_in" }));
  expect(await farm.sync()).toEqual({ kind: "locked", why: "sign_in" });
  expect(kinds(farm)).toEqual(["score"]);
});

test("another person signed in on this browser: nothing goes out under their name", async () => {
  const { farm, server } = await twoScores();
  server.person = { id: BEA, name: "Bea" };
  expect(await farm.sync()).toEqual({ kind: "locked", why: "other_person" });
  expect(server.log).toEqual([]);
});

test("an old token is renewed once", async () => {
  const { farm, server } = await twoScores();
  await farm.sync();
  await score(farm).saved;
  server.next.push(() => json(403, { code: "csrf" }));
  expect(await farm.sync()).toEqual({ kind: "done" });
  server.next.push(() => json(403, { code: "csrf" }), () => json(403, { code: "csrf" }));
  await score(farm).saved;
  expect(await farm.sync()).toMatchObject({ kind: "later", why: "csrf" });
  expect(kinds(farm)).toEqual(["score"]);
});

test("a token that went because somebody else signed in is not renewed for what was not theirs", async () => {
  const { farm, server } = await twoScores();
  await farm.sync();
  await score(farm).saved;
  server.next.push(() => {
    server.person = { id: BEA, name: "Bea" };
    return json(403, { code: "csrf" });
  });
  expect(await farm.sync()).toEqual({ kind: "later", why: "turn", after_ms: 0 });
  expect(await farm.sync()).toEqual({ kind: "locked", why: "other_person" });
  expect([server.log.length, kinds(farm)]).toEqual([2, ["score"]]);
});

test("no longer a member: the sender is locked, what was recorded stays", async () => {
  const { farm, server } = await twoScores();
  server.next.push(() => json(404, { code: "not_found" }));
  expect(await farm.sync()).toEqual({ kind: "locked", why: "not_member" });
  expect(kinds(farm)).toHaveLength(2);
});

test.each([
  [500, "server_error"], [502, "server_error"], [429, "busy"], [503, "busy"],
])("%d waits", async (status, why) => {
  const { farm, server } = await twoScores();
  server.next.push(() => json(status, {}, { "Retry-After": "7" }));
  expect(await farm.sync()).toEqual({ kind: "later", why, after_ms: 7000 });
  expect(kinds(farm)).toHaveLength(2);
});

test("too large halves the batch until it fits, and every entry arrives", async () => {
  const { farm, server, phone } = await setUp();
  await doe(farm).saved;
  for (let i = 0; i < 9; i++) await score(farm, 300).saved;
  phone.network = async (path, init) => {
    if (path.endsWith("/events") && (JSON.parse(init.body as string) as { events: [] }).events.length > 3)
      return json(413, {});
    return server.fetch(path, init);
  };
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(server.log).toHaveLength(10);
});

test("one entry that is too large for the server does not hold up the rest", async () => {
  const { farm, server, phone } = await twoScores();
  const lines = Array.from({ length: 400 }, () => ({ to: DOE, feed: "a".repeat(60), g: 1 }));
  const bad = farm.record("fed", DOE, { lines, adds: false });
  await bad.saved;
  await score(farm, 350).saved;
  phone.network = async (path, init) =>
    path.endsWith("/events") && (init.body as string).includes(bad.id) ? json(413, {}) : server.fetch(path, init);
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(server.log).toHaveLength(3);
  expect(farm.needsYou()).toMatchObject([{ code: "too_big", event: { id: bad.id } }]);
});

test("a small entry that is refused as too large has met a stranger's limit, and waits", async () => {
  const { farm, server, phone } = await twoScores();
  phone.network = async (path, init) => (path.endsWith("/events") ? json(413, {}) : server.fetch(path, init));
  expect(await farm.sync()).toMatchObject({ kind: "later", why: "too_large" });
  expect([kinds(farm).length, farm.needsYou().length]).toEqual([2, 0]);
});

test("an unreadable request is tried without packing, then halved, then the one entry is set aside", async () => {
  const { farm, server, phone } = await setUp();
  await doe(farm).saved;
  const bad = farm.record("note", DOE, { text: "odd" });
  await bad.saved;
  phone.network = async (path, init) =>
    path.endsWith("/events") && (init.body as string).includes(bad.id) ? json(400, {}) : server.fetch(path, init);
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(server.log).toHaveLength(1);
  expect(farm.needsYou()).toMatchObject([{ code: "unreadable" }]);
});

test("a refused entry stays visible with its reason, does not count, and goes when a person lets it go", async () => {
  const { farm, server, phone } = await twoScores();
  server.refuse = (ev) => (ev.kind === "score" ? "not_allowed" : null);
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(farm.status).toMatchObject({ kind: "needs_you", n: 1 });
  expect(farm.needsYou()).toMatchObject([{ code: "not_allowed", why: "because" }]);
  expect(farm.view.does[DOE]!.scores).toEqual([]);
  farm.close();
  const again = await openFarm(phone);
  expect(again.needsYou()).toHaveLength(1);
  await again.discard(again.needsYou().map(({ event }) => event.id));
  expect(again.status.kind).toBe("sent");
});

test("discarding never touches what merely waits", async () => {
  const { farm } = await twoScores();
  await farm.discard(farm.pending().map(({ event }) => event.id));
  expect(kinds(farm)).toHaveLength(2);
});

test("a parked entry has left the phone and still belongs to the farm", async () => {
  const { farm, server } = await twoScores();
  const honest = server.take.bind(server);
  server.take = (ev) => ({ ...honest(ev), st: "parked" });
  await farm.sync();
  expect(kinds(farm)).toEqual([]);
  expect(farm.needsYou()).toEqual([]);
});

test("an answer that leaves an entry out leaves it in the queue", async () => {
  const { farm, server } = await twoScores();
  await farm.sync();
  await score(farm).saved;
  const honest = server.push.bind(server);
  server.push = (body) => honest({ ...body, events: [] });
  expect(await farm.sync()).toMatchObject({ kind: "later", why: "no_answers" });
  expect(kinds(farm)).toEqual(["score"]);
});

test("times the server put right count on this phone too", async () => {
  const { farm, server } = await twoScores();
  const honest = server.take.bind(server);
  server.take = (ev) => {
    const answer = honest(ev);
    server.log.at(-1)!.eff = { on: "2020-01-01" };
    return { ...answer, eff: { on: "2020-01-01" } };
  };
  await farm.sync();
  expect(farm.view.does[DOE]!.scores[0]![0]).toBe("2020-01-01");
});

test("what the server cannot read yet, and takes no more of today, waits and holds up nothing", async () => {
  const { farm, server, phone } = await setUp();
  await doe(farm).saved;
  await score(farm).saved;
  server.refuse = ({ kind }) => (kind === "score" ? "update" : null);
  await farm.sync();
  await score(farm, 275).saved;
  phone.now_ms += 60_000;
  await doe(farm).saved;
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(server.log.map(({ ev }) => ev.kind)).toEqual(["doe", "doe"]);
  expect([farm.pending().map(({ event }) => event.kind), farm.needsYou()]).toEqual([["score", "score"], []]);
  server.refuse = () => null;
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect([server.log.length, farm.pending()]).toEqual([4, []]);
});
