import { gunzipSync, gzipSync } from "node:zlib";
import { expect, test } from "vitest";
import { DOE, doe, kinds, openFarm, score, setUp, twoScores } from "../support/farm.ts";
import { START_MS, TestPhone } from "../support/phone.ts";

const DAY_MS = 86_400_000;

test("pages follow one another until there is nothing more", async () => {
  const { farm, server, phone } = await setUp();
  await doe(farm).saved;
  await farm.sync();
  const other = await openFarm(new TestPhone(9), { env: { ...new TestPhone(9).env(), fetch: server.fetch } });
  for (let i = 0; i < 23; i++) await score(other, 300).saved;
  await other.sync();
  server.page = 5;
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(farm.view.does[DOE]!.scores).toHaveLength(23);
  farm.close();
  expect((await openFarm(phone)).view.does[DOE]!.scores).toHaveLength(23);
});

test("a hole in the numbers is not stepped over: the farm is fetched anew", async () => {
  const { farm, server } = await twoScores();
  await farm.sync();
  const writer = await openFarm(new TestPhone(9), { env: { ...new TestPhone(9).env(), fetch: server.fetch } });
  for (const x100 of [300, 325, 350]) await score(writer, x100).saved;
  await writer.sync();
  const honest = server.changes.bind(server);
  let holed = false;
  server.changes = (seq, rev, limit) => {
    const all = honest(seq, rev, limit);
    if (holed || limit === Infinity) return all;
    holed = true;
    return { ...all, events: all.events.slice(1) };
  };
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(server.requests.filter(({ path }) => path.endsWith("/bootstrap"))).toHaveLength(2 + 1);
  expect(farm.view.does[DOE]!.scores).toHaveLength(4);
});

test("a count that runs ahead of the entries is a hole as well", async () => {
  const { farm, server } = await twoScores();
  await farm.sync();
  const honest = server.changes.bind(server);
  let once = true;
  server.changes = (seq, rev, limit) => {
    const all = honest(seq, rev, limit);
    if (!once) return all;
    once = false;
    return { ...all, seq: all.seq + 4 };
  };
  await farm.sync();
  expect(farm.diagnostics()).toContain("bootstrap gap");
});

test("a late answer from before changes nothing twice", async () => {
  const { farm, server, phone } = await twoScores();
  const kept: Response[] = [];
  phone.network = async (path, init) => {
    const reply = await server.fetch(path, init);
    if (path.endsWith("/events")) kept.push(reply.clone());
    return reply;
  };
  await farm.sync();
  await score(farm, 350).saved;
  await farm.sync();
  await score(farm, 375).saved;
  server.next.push(() => kept[0]!.clone());
  expect((await farm.sync()).kind).toBe("later");
  expect(kinds(farm)).toEqual(["score"]);
  await farm.sync();
  expect(farm.view.does[DOE]!.scores).toHaveLength(3);
  expect(server.log).toHaveLength(4);
});

test("a restored server gets back what it forgot, what it refused included", async () => {
  const { farm, server } = await twoScores();
  await farm.sync();
  server.refuse = () => "not_allowed";
  await score(farm, 325).saved;
  await farm.sync();
  await score(farm, 350).saved;
  server.log = server.log.slice(0, 1);
  server.epoch = 2;
  server.refuse = () => null;
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(server.log.map(({ ev }) => ev.kind)).toEqual(["doe", "score", "score", "score"]);
  expect(farm.needsYou()).toEqual([]);
  expect(kinds(farm)).toEqual([]);
});

test("an entry offered again after a restore takes along what it was given, through a second restore as well", async () => {
  const { farm, server } = await twoScores();
  const given = { hlc: "000000000001-0000-0000000a" };
  const honest = server.take.bind(server);
  server.take = (ev) => {
    honest(ev);
    if (ev.kind === "score") server.log.at(-1)!.eff = given;
    return honest(ev);
  };
  await farm.sync();
  const offers: unknown[] = [];
  const push = server.push.bind(server);
  server.push = (body) => (offers.push((body as { before?: unknown }).before), push(body));
  server.log = [];
  server.epoch = 2;
  server.next.push(() => { server.log = []; server.epoch = 3; return new Response("", { status: 503 }); });
  await farm.sync();
  await farm.sync();
  const kept = Object.values(offers.at(-1) as Record<string, unknown>);
  expect(kept).toHaveLength(2);
  expect(kept).toContainEqual({ receipt: expect.stringMatching(/^taken /), eff: given });
  expect(kept).toContainEqual({ receipt: expect.stringMatching(/^taken /), eff: null });
});

test("an entry from before there were receipts is offered again without one, and taken", async () => {
  const { farm, server } = await twoScores();
  const honest = server.take.bind(server);
  server.take = (ev) => {
    const { receipt: _answered, ...answer } = honest(ev);
    for (const entry of server.log) delete entry.receipt;
    return answer;
  };
  await farm.sync();
  [server.log, server.epoch] = [[], 2];
  await farm.sync();
  const pushed = server.requests.filter(({ path }) => path.endsWith("/events")).at(-1)!;
  expect(JSON.parse(pushed.body)).not.toHaveProperty("before");
  expect([server.log.length, kinds(farm)]).toEqual([2, []]);
});

test("an answer that is lost takes no receipt along: it comes with the entry when that is fetched", async () => {
  const { farm, server } = await twoScores();
  server.next.push(() => {
    server.push(JSON.parse(server.requests.at(-1)!.body));
    throw new TypeError("answer lost");
  });
  await farm.sync();
  farm.session.forget();
  await farm.sync();
  [server.log, server.epoch] = [[], 2];
  await farm.sync();
  const pushed = server.requests.filter(({ path }) => path.endsWith("/events")).at(-1)!;
  expect(Object.keys((JSON.parse(pushed.body) as { before: object }).before)).toHaveLength(2);
});

test("what a phone years behind recorded is kept for a restored server: its age is counted by the server's clock", async () => {
  const { farm, server, phone } = await setUp();
  server.now = START_MS;
  phone.now_ms = START_MS - 700 * DAY_MS;
  await doe(farm).saved;
  await farm.record("note", DOE, { text: "limps" }).saved;
  await farm.sync();
  expect(farm.view.notes).toEqual([]);
  [server.log, server.epoch] = [[], 2];
  await farm.sync();
  expect(server.log.map(({ ev }) => ev.kind)).toEqual(["doe", "note"]);
  server.now += 91 * DAY_MS;
  await farm.sync();
  farm.close();
  const later = await openFarm(phone);
  [server.log, server.epoch] = [[], 3];
  await later.sync();
  expect(server.log.map(({ ev }) => ev.kind)).toEqual(["doe"]);
});

test("a restore seen only on a fetch is noticed as well", async () => {
  const { farm, server } = await twoScores();
  await farm.sync();
  server.log = [];
  server.epoch = 2;
  await farm.sync();
  expect(server.log).toHaveLength(2);
});

test("what others recorded and the restored server no longer knows goes from this phone too", async () => {
  const { farm, server } = await twoScores();
  await farm.sync();
  const other = await openFarm(new TestPhone(9), { env: { ...new TestPhone(9).env(), fetch: server.fetch } });
  await score(other, 350).saved;
  await other.sync();
  await farm.sync();
  expect(farm.view.does[DOE]!.scores).toHaveLength(2);
  server.log = server.log.slice(0, 2);
  server.epoch = 2;
  await farm.sync();
  expect(farm.view.does[DOE]!.scores).toHaveLength(1);
  await other.sync();
  await farm.sync();
  expect(farm.view.does[DOE]!.scores).toHaveLength(2);
});

test("requests are packed where the phone can, and the packed text is the same", async () => {
  const phone = new TestPhone();
  const { server } = await setUp();
  let sent: Uint8Array | null = null;
  const fetch = async (path: string, init: RequestInit) => {
    if (!path.endsWith("/events")) return server.fetch(path, init);
    sent = init.body as Uint8Array;
    expect((init.headers as Record<string, string>)["Content-Encoding"]).toBe("gzip");
    return server.fetch(path, { ...init, body: gunzipSync(sent).toString() });
  };
  const gzip = async (text: string) => new Uint8Array(gzipSync(text));
  const farm = await openFarm(phone, { env: phone.env({ fetch, gzip }) });
  for (let i = 0; i < 50; i++) await score(farm).saved;
  await farm.sync();
  expect(server.log).toHaveLength(50);
  expect(sent!.length).toBeLessThan(50 * 60);
});

test("a connection that stays open without a word ends by itself", async () => {
  const { phone } = await twoScores();
  const farm = await openFarm(phone, {
    env: phone.env({ fetch: () => new Promise(() => undefined), setTimer: (run) => setTimeout(run, 5) }),
  });
  expect(await farm.sync()).toMatchObject({ kind: "later", why: "no_answer" });
});

test("two runs at once are one run", async () => {
  const { farm, server } = await twoScores();
  await Promise.all([farm.sync(), farm.sync(), farm.sync()]);
  expect(server.requests.filter(({ path }) => path.endsWith("/events"))).toHaveLength(1);
});

test("two tabs that send at once, with no lock between them, double nothing", async () => {
  const { farm, server, phone } = await twoScores();
  const tab = await openFarm(phone);
  await Promise.all([farm.sync(), tab.sync()]);
  expect(server.log).toHaveLength(2);
  expect(tab.view.does[DOE]!.scores).toHaveLength(1);
  expect(farm.pending()).toEqual([]);
});

test("while another tab holds the lock this one waits its turn", async () => {
  const { phone } = await twoScores();
  const request = (async (_name: string, _options: unknown, run: (lock: null) => unknown) => run(null)) as never;
  const farm = await openFarm(phone, { env: phone.env({ locks: { request } }) });
  expect(await farm.sync()).toMatchObject({ kind: "later", why: "other_tab" });
});

test("an own entry the short list leaves out is kept for a restore and no longer counts", async () => {
  const { farm, server, phone } = await setUp();
  const first = farm.record("doe", DOE, { f: { mature_kg: 30 }, base: {} });
  const stamp = (id: string) => farm.event(id)!.hlc;
  const second = farm.record("doe", DOE, { f: { mature_kg: 40 }, base: { mature_kg: stamp(first.id) } });
  const third = farm.record("doe", DOE, { f: { mature_kg: 50 }, base: { mature_kg: stamp(second.id) } });
  await third.saved;
  await farm.sync();
  const honest = server.changes.bind(server);
  server.changes = (seq, rev, limit) => {
    const all = honest(seq, rev, limit);
    return limit === Infinity
      ? { ...all, events: all.events.filter(({ ev }) => ev.id === third.id) }
      : { ...all, seq: all.seq + 1 };
  };
  await farm.sync();
  expect(farm.view.questions).toEqual([]);
  expect(farm.event(first.id)).toBeUndefined();
  server.changes = honest;
  farm.close();
  const again = await openFarm(phone);
  expect(again.view.questions).toEqual([]);
  server.log = [];
  server.epoch = 2;
  await again.sync();
  expect(server.log.map(({ ev }) => ev.id)).toEqual([first.id, second.id, third.id]);
  expect(again.view.does[DOE]!.f["mature_kg"]).toBe(50);
});

test("offered again after a restore, and known there though not on the short list: it stays out of the view", async () => {
  const { farm, server } = await setUp();
  const first = farm.record("doe", DOE, { f: { name: "Fern" }, base: {} });
  const second = farm.record("doe", DOE, { f: { name: "Moss" }, base: {} });
  await second.saved;
  await farm.sync();
  server.epoch = 2;
  const honest = server.changes.bind(server);
  server.changes = (seq, rev, limit) => {
    const all = honest(seq, rev, limit);
    return limit === Infinity ? { ...all, events: all.events.filter(({ ev }) => ev.id === second.id) } : all;
  };
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(farm.pending()).toEqual([]);
  expect(farm.event(first.id)).toBeUndefined();
  expect(farm.view.does[DOE]!.f["name"]).toBe("Moss");
});
