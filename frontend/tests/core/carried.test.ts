import { expect, test } from "vitest";
import { asFile, asText, takeFile } from "../../src/core/phone/by_file.ts";
import { from_file } from "../../src/core/phone/carried.ts";
import { notices } from "../../src/core/phone/waits.ts";
import { ADA, BEA, DOE, doe, FARM, kinds, openFarm, score, setUp } from "../support/farm.ts";
import { TestPhone } from "../support/phone.ts";

const offline = () => Promise.reject(new TypeError("no signal"));

/** Ada wrote two entries on a phone without a signal, and saved them to a file. */
async function saved() {
  const set = await setUp(1, { names: { who: "Ada", farm_name: "Combe" } });
  set.server.people = [{ id: ADA, name: "Ada", role: "helper" }, { id: BEA, name: "Bea", role: "owner" }];
  set.phone.network = offline;
  await doe(set.farm).saved;
  await score(set.farm).saved;
  return { ...set, file: asFile(set.farm.byFile), texts: asText(set.farm.byFile).split("\n") };
}

async function beas(set: { server: Awaited<ReturnType<typeof setUp>>["server"] }) {
  const phone = new TestPhone(7);
  phone.network = set.server.fetch;
  set.server.person = { id: BEA, name: "Bea" };
  return { phone, farm: await openFarm(phone, { person: BEA }) };
}

test("a file says whose, how many and when, and holds each entry to the byte", async () => {
  const { file, texts, phone } = await saved();
  const read = from_file(file)!;
  expect(read.head).toMatchObject({ farm: FARM, farm_name: "Combe", person: ADA, who: "Ada", n: 2 });
  expect([read.texts, read.damaged, read.since]).toEqual([texts, 0, phone.now_ms]);
  expect(from_file(file.replaceAll("\n", "\r\n"))!.texts).toEqual(texts);
});

test("what is damaged is counted, and what arrived whole can still be loaded", async () => {
  const { file, texts } = await saved();
  expect(from_file(file.replace('"x100":300', '"x100":350'))).toMatchObject({ damaged: 1, texts: [texts[0]] });
  expect(from_file(file.slice(0, -9))).toMatchObject({ damaged: 1, texts: [texts[0]] });
  for (const odd of ["", "a picture", file.slice(4), `x${file}`]) expect(from_file(odd)).toBeNull();
});

test("another phone counts what it was brought, and loads nothing twice", async () => {
  const set = await saved();
  const { farm, phone } = await beas(set);
  phone.network = offline;
  expect(await takeFile(farm.byFile, from_file(set.file)!)).toBe(2);
  expect(await takeFile(farm.byFile, from_file(set.file)!)).toBe(0);
  expect([kinds(farm), farm.status.n, farm.view.does[DOE]!.scores.length]).toEqual([["doe", "score"], 2, 1]);
  farm.close();
  expect(kinds(await openFarm(phone, { person: BEA }))).toEqual(["doe", "score"]);
});

test("what is written over a word that came in a file stands over it, though the phone it is from runs ahead", async () => {
  const set = await setUp();
  set.phone.network = offline;
  set.phone.now_ms += 3_600_000;
  await doe(set.farm).saved;
  const { farm, phone } = await beas(set);
  phone.network = offline;
  await takeFile(farm.byFile, from_file(asFile(set.farm.byFile))!);
  const { stamp } = farm.view.does[DOE]!;
  await farm.record("doe", DOE, { f: { name: "Hazel" }, base: { name: stamp["name"]! } }).saved;
  expect(farm.view.does[DOE]!.f["name"]).toBe("Hazel");
});

test("whoever has no seat there has them put on the owner's list, and that is said", async () => {
  const set = await saved();
  const { farm, phone } = await beas(set);
  await score(farm, 275).saved;
  set.server.refuse = (ev) => (ev.author === ADA ? "carried" : null);
  await takeFile(farm.byFile, from_file(set.file)!);
  expect(await farm.sync()).toEqual({ kind: "done" });
  const pushes = set.server.requests.filter(({ path }) => path.endsWith("/events")).map(({ body }) => JSON.parse(body));
  expect(pushes.map(({ carried, events }) => [carried ?? false, events.length])).toEqual([[false, 1], [true, 2]]);
  expect(pushes[1].events.map((ev: unknown) => JSON.stringify(ev))).toEqual(set.texts);
  expect([farm.pending(), farm.needsYou()]).toEqual([[], []]);
  expect(notices(phone.env())).toMatchObject([{ what: "handed", person: ADA, n: 2, kinds: { doe: 1, score: 1 } }]);
});

test("what the server has no room for stays here, and holds up nothing of her own", async () => {
  const set = await saved();
  const { farm, phone } = await beas(set);
  set.server.refuse = (ev) => (ev.author === ADA ? "carried" : null);
  set.server.full = (ev) => ev.author === ADA && ev.kind === "score";
  await takeFile(farm.byFile, from_file(set.file)!);
  await farm.sync();
  phone.now_ms += 3_600_000;
  await score(farm, 275).saved;
  expect(await farm.sync()).toEqual({ kind: "later", why: "no_answers", after_ms: 0 });
  expect(farm.pending().map(({ event }) => [event.kind, event.author])).toEqual([["score", ADA]]);
  expect(set.server.log.map(({ ev }) => ev.author)).toEqual([BEA]);
  expect(notices(phone.env())).toMatchObject([{ what: "handed", n: 1 }]);
  set.server.full = () => false;
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(farm.pending()).toEqual([]);
});

test("whoever has a seat there sends them as her own, and her first phone hears that they are there", async () => {
  const set = await saved();
  const { farm } = await beas(set);
  await takeFile(farm.byFile, from_file(set.file)!);
  await farm.sync();
  expect(set.server.log.map(({ ev }) => ev.author)).toEqual([ADA, ADA]);
  expect(farm.view.does[DOE]!.scores).toHaveLength(1);
  set.server.person = { id: ADA, name: "Ada" };
  set.phone.network = set.server.fetch;
  await set.farm.sync();
  expect([set.farm.status.kind, set.server.log.length]).toEqual(["sent", 2]);
});

test("what was brought outlasts a farm that is fetched whole", async () => {
  const set = await saved();
  const { farm, phone } = await beas(set);
  await farm.sync();
  await takeFile(farm.byFile, from_file(set.file)!);
  phone.network = (path, init) => (path.endsWith("/events") ? offline() : set.server.fetch(path, init));
  set.server.epoch = 2;
  await farm.sync();
  phone.network = set.server.fetch;
  await farm.sync();
  expect(set.server.log.map(({ ev }) => ev.kind)).toEqual(["doe", "score"]);
});
