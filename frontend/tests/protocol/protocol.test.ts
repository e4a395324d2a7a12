import "fake-indexeddb/auto";
import { afterAll, beforeAll, expect, test } from "vitest";
import { newerBuild, type Build } from "./builds.ts";
import { Machine } from "./machine.ts";
import { Server } from "./server.ts";
import { Tally } from "./tally.ts";

const THOROUGH = process.env["MANGERLINE_THOROUGH"] === "1";
const RUNS = Number(process.env["MANGERLINE_PROTOCOL_RUNS"] ?? (THOROUGH ? 40 : 4));
const SEED = Number(process.env["MANGERLINE_PROTOCOL_SEED"] ?? 1);
/** A long run ends after so many minutes, whatever it has come to. */
const MINUTES = Number(process.env["MANGERLINE_PROTOCOL_MINUTES"] ?? Infinity);
const STEPS = 80;
/** In so many each fault happens. */
const ENOUGH_RUNS = 20;
let server: Server;
let newer: Build;

beforeAll(async () => {
  newer = await newerBuild();
  server = await new Server().open();
});

afterAll(() => server.close());

test("seeded farms: lost 0, doubled 0, all phones equal, queues empty, each loss said, nothing called sent unheard", async () => {
  const until = Date.now() + MINUTES * 60_000;
  const [total, tally] = [{ runs: 0, recorded: 0, in_log: 0 }, new Tally()];
  const failed: { seed: number; problems: string[] }[] = [];
  for (let seed = SEED; seed < SEED + RUNS && Date.now() < until; seed++) {
    const { recorded, in_log, problems } = await new Machine(server, seed, {}, newer, tally).run(STEPS);
    if (problems.length) failed.push({ seed, problems });
    if (problems.length) console.log(`run ${seed}: ${problems.slice(0, 12).join("\n  ")}`);
    total.runs++;
    total.recorded += recorded;
    total.in_log += in_log;
  }
  const { runs } = total;
  console.log(`${runs} runs from seed ${SEED}: ${total.recorded} entries recorded, ${total.in_log} in the logs`);
  console.log(tally.text);
  expect(failed).toEqual([]);
  expect(total.in_log).toBeGreaterThan(10 * runs);
  if (runs >= ENOUGH_RUNS) expect(tally.never).toEqual([]);
});
