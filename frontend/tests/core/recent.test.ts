import { expect, test } from "vitest";
import { addDays } from "../../src/core/base/days.ts";
import type { Envelope } from "../../src/core/events/events.ts";
import { outside, reaches_back } from "../../src/core/phone/recent.ts";
import { DOE, doe, openFarm, setUp } from "../support/farm.ts";
import { TestPhone } from "../support/phone.ts";

const TODAY = "2026-11-25";
let n = 0;

function event(kind: string, back_d: number, data: Envelope["data"] = {}, subject = "fern"): Envelope {
  n++;
  const on = addDays(TODAY, -back_d);
  const happened = Date.parse(on) + n;
  const hlc = `${String(n).padStart(12, "0")}-0000-0000000a`;
  return {
    id: `e${n}`, kind, v: 1, subject, on, slot: "", happened, entered: happened, hlc, author: "a", device: "d",
    data,
  };
}

const gone = (events: Envelope[], parked: string[] = []) => [...outside(events, new Set(parked), TODAY)];

test("observations go after 62 days; what people keep and what happened to a doe never does", () => {
  const old = [
    event("fed", 63), event("intake", 63), event("note", 63), event("udder", 63), event("weather", 63),
    event("triage", 63), event("round", 63),
  ];
  const for_ever = [
    "doe", "bred", "ration", "kidded", "treatment", "freeze", "calibration", "new_bag", "contact", "shelf", "scoop",
    "jar", "pack",
  ];
  const kept = [event("fed", 62), event("triage", 62), event("round", 62), ...for_ever.map((kind) => event(kind, 900))];
  expect(gone([...old, ...kept])).toEqual(old.map(({ id }) => id));
});

test("the latest scores, weights and milks of each doe stay however old", () => {
  const scores = [700, 600, 500, 400, 300, 200, 100].map((back) => event("score", back));
  const weights = [500, 400, 300, 200, 100].map((back) => event("weight", back));
  const other = event("score", 900, {}, "moss");
  expect(gone([...scores, ...weights, other])).toEqual([scores[0]!.id, weights[0]!.id]);
});

test("a voided score holds its place, and stays with its void: what went is never wanted again", () => {
  const scores = [700, 600, 500, 400, 300, 200, 100].map((back) => event("score", back));
  const link = event("void", 99, { of: scores[6]!.id });
  expect(gone([...scores, link])).toEqual([scores[0]!.id]);
});

test("a correction holds what it corrects; a void of something gone goes with it, and so does the void of that void", () => {
  const meal = event("fed", 80);
  const fix = event("correct", 80, { of: meal.id, data: {} });
  const other = event("fed", 80);
  const link = event("void", 79, { of: other.id });
  const back = event("void", 78, { of: link.id });
  expect(gone([meal, fix, other, link, back]).sort()).toEqual([other.id, link.id, back.id].sort());
});

test("a void that still waits for something is never let go; an old look at a doe nobody named yet is", () => {
  const stray = event("udder", 90, {}, "nobody");
  const link = event("void", 90, { of: "not here yet" });
  expect(gone([stray, link], [stray.id, link.id])).toEqual([stray.id]);
});

test("a phone whose clock jumps a year ahead throws nothing away, and one that opens months later does", async () => {
  const { farm, server, phone } = await setUp();
  const honest = server.changes.bind(server);
  let server_now = phone.now_ms;
  server.changes = (seq, rev, limit) => ({ ...honest(seq, rev, limit), now: server_now });
  doe(farm);
  await farm.record("note", DOE, { text: "kept" }).saved;
  await farm.sync();
  phone.now_ms += 400 * 86_400_000;
  await farm.sync();
  expect(farm.view.notes).toHaveLength(1);
  farm.close();
  server_now += 100 * 86_400_000;
  const again = await openFarm(phone);
  expect(again.view.notes).toHaveLength(1);
  await again.sync();
  expect(again.view.notes).toEqual([]);
  expect(again.view.does[DOE]).toBeDefined();
});

test("an old entry put right by somebody else after it was let go is fetched again, with what belongs to it", async () => {
  const { farm, server, phone } = await setUp();
  const honest = server.changes.bind(server);
  server.changes = (seq, rev, limit) => ({ ...honest(seq, rev, limit), now: phone.now_ms });
  doe(farm);
  const look = farm.record("udder", DOE, { fill: 2, uneven: false }, { happened: phone.now_ms - 90 * 86_400_000 });
  await look.saved;
  await farm.sync();
  expect(farm.view.does[DOE]!.udder).toEqual([]);
  const other = new TestPhone(2);
  other.network = server.fetch;
  const theirs = await openFarm(other);
  await theirs.sync();
  const today = theirs.record("udder", DOE, { fill: 1, uneven: false });
  await today.saved;
  const on = theirs.view.does[DOE]!.udder.at(-1)![0];
  await theirs.record("correct", DOE, { of: look.id, data: { fill: 3, uneven: false }, on }).saved;
  await theirs.sync();
  await farm.sync();
  expect(farm.view.does[DOE]!.udder.map((row) => [row[0], row[1]]).sort()).toEqual([[on, 1], [on, 3]]);
});

test("a void whose target went from storage before it does not come back waiting when the app is opened again", async () => {
  const { farm, server, phone } = await setUp();
  const honest = server.changes.bind(server);
  server.changes = (seq, rev, limit) => ({ ...honest(seq, rev, limit), now: phone.now_ms });
  doe(farm);
  const right = phone.now_ms;
  phone.now_ms -= 700 * 86_400_000;
  const look = farm.record("udder", DOE, { fill: 2, uneven: false });
  phone.now_ms = right;
  await farm.record("void", DOE, { of: look.id }).saved;
  await farm.sync();
  farm.close();
  const again = await openFarm(phone);
  expect(again.view.parked).toEqual([]);
  expect(again.view.voided).toEqual({});
});

test("the list is fetched again for what reaches back behind the window, and for nothing else", () => {
  const now = Date.parse("2026-11-25T06:00:00Z");
  const stamped = (made: Envelope, days: number) => ({
    ...made, hlc: `${(now - days * 86_400_000).toString(16).padStart(12, "0")}-0000-0000000a`,
  });
  const old = stamped(event("doe", 90), 90);
  const lately = stamped(event("doe", 2), 2);
  const look = stamped(event("udder", 90), 90);
  const held = new Map([old, lately, look].map((one) => [one.id, one]));
  const link = (of: string, kind = "void") => stamped(event(kind, 0, { of }), 0);
  const reaches = (...came: Envelope[]) => reaches_back(came, (id) => held.get(id), now);
  const of_old = link(old.id);
  expect(reaches(of_old)).toBe(true);
  expect(reaches(link(of_old.id))).toBe(true);
  expect(reaches(of_old, link(of_old.id, "correct"))).toBe(true);
  expect(reaches(link("let go"))).toBe(true);
  expect(reaches(stamped(event("ration", 0), 70))).toBe(true);
  expect(reaches(link(lately.id), link(look.id), stamped(event("ration", 0), 0), stamped(event("bred", 90), 90))).toBe(
    false,
  );
});
