import "fake-indexeddb/auto";
import { afterAll, beforeAll, expect, test } from "vitest";
import { newerBuild, type Build } from "./builds.ts";
import { Machine } from "./machine.ts";
import { Server } from "./server.ts";

const RUNS = Number(process.env["MANGERLINE_PROTOCOL_RUNS"] ?? 30);
const SEED = Number(process.env["MANGERLINE_PROTOCOL_SEED"] ?? 1);
const STEPS = 80;
let server: Server;
let newer: Build;

beforeAll(async () => {
  newer = await newerBuild();
  server = await new Server().open();
});

afterAll(() => server.close());

test(`${RUNS} seeded farms: lost 0, doubled 0, all phones equal, queues empty, no word beaten by what it answered`, async () => {
  const total = { recorded: 0, in_log: 0 };
  const failed: { seed: number; problems: string[] }[] = [];
  for (let seed = SEED; seed < SEED + RUNS; seed++) {
    const outcome = await new Machine(server, seed, {}, newer).run(STEPS);
    if (outcome.problems.length) failed.push({ seed, problems: outcome.problems });
    total.recorded += outcome.recorded;
    total.in_log += outcome.in_log;
  }
  console.log(`${RUNS} runs from seed ${SEED}: ${total.recorded} entries recorded, ${total.in_log} in the logs`);
  expect(failed).toEqual([]);
  expect(total.in_log).toBeGreaterThan(10 * RUNS);
});
