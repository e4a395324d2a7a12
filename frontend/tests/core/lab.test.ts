import { expect, test } from "vitest";
import { read_minerals } from "../../src/core/barn/lab/minerals.ts";
import { read_report, type Outcome, type Report } from "../../src/core/barn/lab/report.ts";
import { cases } from "../support/vectors.ts";

interface Case {
  name: string;
  report: Report;
  outcome: Outcome;
}

test.each(cases<Case>("lab"))("laboratory report: $name", ({ report, outcome }) => {
  expect(read_report(report)).toEqual(outcome);
});

test("minerals: usual units, said units, as received turned by the dry matter", () => {
  const { fields, problems } = read_minerals(
    { zn: "20" }, { mg: "0.33", cu: "9", se: "0.05", k: "25600", s: "2,8" }, { k: "ppm", s: "g_kg" }, 800,
  );
  // 20 ppm as received / 0.80 = 25 ppm; 25 600 ppm = 2.56 %; 2.8 g/kg = 0.28 %
  expect(problems).toEqual([]);
  expect(fields).toEqual({
    mg_pct_x100: 33, k_pct_x100: 256, s_pct_x100: 28, cu_ppm_x100: 900, zn_ppm_x100: 2500, se_ppm_x100: 5,
  });
});

test("minerals: a label in per cent of a trace, and what cannot be", () => {
  expect(read_minerals({}, { cu: "0.165" }, { cu: "%" }, null).fields).toEqual({ cu_ppm_x100: 165_000 });
  expect(read_minerals({ cu: "9" }, {}, {}, null).problems).toEqual([["no_dm", "", ""]]);
  expect(read_minerals({}, { mg: "3300" }, {}, null).problems).toEqual([["mineral_impossible", "mg", "3300"]]);
  expect(read_minerals({}, { fe: "1.2e3", zn: "5" }, { zn: "grains" }, null).problems).toEqual([
    ["unit_unknown", "zn", ""], ["unreadable", "fe", ""],
  ]);
  expect(read_minerals({}, { fe: "999999" }, { fe: "%" }, null).problems).toEqual([
    ["mineral_impossible", "fe", "999999"],
  ]);
});

/** Figures drawn with a fixed seed, so that a report that fails can be read again. */
function dice(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
}

const read = (report: Partial<Report>): Outcome =>
  read_report({ received: {}, dry: {}, units: {}, kind: "mixed", cured: true, tdn_by: "unknown", ...report });

test("either column gives the same record", () => {
  const roll = dice(1);
  for (let n = 0; n < 300; n++) {
    const dm = Math.round(60 + 35 * roll());
    const dry = { cp: (3 + 22 * roll()).toFixed(1), ndf: (30 + 40 * roll()).toFixed(1), tdn: "55" };
    const wet = Object.fromEntries(
      Object.entries(dry).map(([name, text]) => [name, ((Number(text) * dm) / 100).toFixed(4)]),
    );
    const [one, other] = [read({ received: { dm: String(dm) }, dry }), read({ received: { dm: String(dm), ...wet } })];
    expect(Object.keys(one.fields).length).toBeGreaterThan(0);
    expect(other.fields).toEqual(one.fields);
  }
});

test("any report is read into figures a record may hold, or refused with what to check", () => {
  const [roll, letters] = [dice(2), "0123456789.,-% "];
  const names = ["dm", "moisture", "cp", "ndf", "adf", "lignin", "fat", "ash", "tdn", "ca", "p", "nel", "me"];
  const text = () => Array.from({ length: Math.floor(8 * roll()) }, () => letters[Math.floor(15 * roll())]).join("");
  for (let n = 0; n < 2000; n++) {
    const column = Object.fromEntries(names.filter(() => roll() < 0.4).map((name) => [name, text()]));
    const { fields, problems } = read({ received: column, dry: column, kind: roll() < 0.5 ? "legume" : "grain" });
    expect(problems.length > 0 && Object.keys(fields).length > 0).toBe(false);
    for (const [name, value] of Object.entries(fields)) {
      expect(value, name).toBeGreaterThanOrEqual(0);
      expect(value, name).toBeLessThanOrEqual(name.endsWith("x100") ? 10_000 : 1500);
    }
  }
});
