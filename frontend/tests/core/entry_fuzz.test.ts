import fc from "fast-check";
import { afterEach, expect, test } from "vitest";
import { canonical } from "../../src/core/events/canonical.ts";
import { effective, type Envelope } from "../../src/core/events/events.ts";
import { VERSIONS } from "../../src/core/events/kinds.ts";
import { upcast } from "../../src/core/events/upcast.ts";
import type { Farm } from "../../src/core/phone/farm.ts";
import { fold } from "../../src/core/state/fold.ts";
import { logs } from "../support/absurd.ts";
import type { FakeServer } from "../support/fake_server.ts";
import { kinds, openFarm, score, setUp, type Setup } from "../support/farm.ts";

/**
 * What a server let in, pulled by today's app and by one from before, opened again, and read by a newer one after it.
 * MANGERLINE_FUZZ_RUNS=5000 tries more, MANGERLINE_FUZZ_SEED others.
 */
const RUNS = Number(process.env["MANGERLINE_FUZZ_RUNS"] ?? 150);
const SEED = Number(process.env["MANGERLINE_FUZZ_SEED"] ?? 1);
const SAFE = "77777777-7777-4777-8777-777777777777";
const TODAY = { ...VERSIONS };
const LATER = ["triage", "freeze", "round", "jar", "pack", "wish", "decline", "got_into"];
const BEFORE = Object.fromEntries(Object.keys(TODAY).filter((kind) => !LATER.includes(kind)).map((kind) => [kind, 1]));
const LONG = RUNS * 200 + 20_000;

function become(build: Record<string, number>): void {
  const table = VERSIONS as Record<string, number>;
  for (const kind of Object.keys(table)) delete table[kind];
  Object.assign(table, build);
}
afterEach(() => become(TODAY));

async function begun(): Promise<Setup> {
  const set = await setUp();
  await set.farm.record("doe", SAFE, { f: { name: "Fern", size: "mini" }, base: {} }).saved;
  await score(set.farm, 300, SAFE).saved;
  expect(await set.farm.sync()).toEqual({ kind: "done" });
  return set;
}

function came(server: FakeServer, texts: string[]): void {
  for (const text of texts) {
    const ev = JSON.parse(text) as Envelope;
    server.log.push({ seq: server.log.length + 1, st: "ok", eff: null, ev });
  }
}

/** What the log adds up to, told without a phone. */
const told = (server: FakeServer) =>
  canonical(fold(server.log.map(({ ev, eff }) => upcast(effective(JSON.parse(JSON.stringify(ev)) as Envelope, eff)))));

function whole(farm: Farm, server: FakeServer, scores: number[]): void {
  expect(farm.view.does[SAFE]!.f["name"]).toBe("Fern");
  expect(farm.view.does[SAFE]!.scores.map(([, x100]) => x100)).toEqual(scores);
  expect([farm.status.kind, kinds(farm)]).toEqual(["sent", []]);
  expect(farm.view.aside.filter(({ why }) => why === "stopped")).toEqual([]);
  expect(canonical(farm.view)).toBe(told(server));
  // Whoever looks at what waits and at the history stumbles over nothing.
  expect(farm.unread().newer).toBeGreaterThanOrEqual(0);
  farm.events(() => true).forEach((event) => JSON.stringify(event));
}

async function lived(texts: string[], build: Record<string, number>): Promise<void> {
  const { farm, phone, server } = await begun();
  try {
    become(build);
    came(server, texts);
    phone.now_ms += 1000;
    await score(farm, 325, SAFE).saved;
    expect(await farm.sync()).toEqual({ kind: "done" });
    whole(farm, server, [300, 325]);
    farm.close();
    const again = await openFarm(phone);
    whole(again, server, [300, 325]);
    again.close();
    become(TODAY);
    const newer = await openFarm(phone);
    whole(newer, server, [300, 325]);
    phone.now_ms += 1000;
    await score(newer, 350, SAFE).saved;
    expect(await newer.sync()).toEqual({ kind: "done" });
    whole(newer, server, [300, 325, 350]);
    newer.close();
  } finally {
    become(TODAY);
  }
}

test.each([["today's app", TODAY], ["an app from before", BEFORE]])("%s", async (_name, build) => {
  const options = { numRuns: RUNS, seed: SEED, endOnFailure: process.env["MANGERLINE_FUZZ_RUNS"] === undefined };
  await fc.assert(fc.asyncProperty(logs, (texts) => lived(texts, build)), options);
}, LONG);
