import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { Envelope, Json } from "../../src/core/events/events.ts";
import { problem_in, problem_of } from "../../src/core/events/payloads.ts";
import { RULES } from "../../src/core/tables/rules.ts";

const VECTORS = new URL("../../../tests/vectors/", import.meta.url);
const read = (name: string) => JSON.parse(readFileSync(new URL(name, VECTORS), "utf8")) as unknown;
const { probes, of, rules } = read("payloads/probes.json") as {
  probes: Json[];
  of: Record<string, Record<string, string>>;
  rules: Record<string, [number, number]>;
};

function changed(event: Envelope, where: string, value: Json): Envelope {
  const made = structuredClone(event);
  const steps = where.split(".");
  const last = steps.pop()!;
  const inner = steps.reduce((it, step) => (it as never)[step], made as unknown) as Record<string, Json>;
  inner[last] = value;
  return made;
}

/** The range of a herd rule is judged apart from the event's own form, on the server as here. */
function judge(event: Envelope) {
  if (event.kind !== "rules") return problem_of(event);
  return problem_of({ ...event, kind: "not judged" }) ?? problem_in("rules", 1, event.data);
}

test("herd rules have the limits the server has", () => {
  expect(Object.fromEntries(Object.entries(RULES).map(([name, [, low, high]]) => [name, [low, high]]))).toEqual(rules);
});

test.each(Object.entries(of))(
  "%s: the form accepts and refuses what the server does, field by field",
  (name, paths) => {
    const { event } = read(`events/${name}.json`) as { event: Envelope };
    const judged = Object.keys(paths).map((where) => {
      const verdicts = probes.map((probe) => (judge(changed(event, where, probe)) ? "0" : "1")).join("");
      return [where, verdicts] as const;
    });
    expect(judged.length).toBeGreaterThan(3);
    for (const [where, verdicts] of judged) {
      const differs = [...verdicts].flatMap((bit, i) => (bit === paths[where]![i] ? [] : [probes[i]]));
      expect({ where, differs }).toEqual({ where, differs: [] });
    }
  },
);

test("a form is told the field, what is wrong and the limits", () => {
  expect(problem_in("score", 1, { x100: 525 })).toEqual({ code: "range", field: "x100", low: 100, high: 500 });
  expect(problem_in("score", 1, { x100: 310 })).toEqual({ code: "step", field: "x100", low: 25 });
  expect(problem_in("score", 1, {})).toEqual({ code: "missing", field: "x100" });
  expect(problem_in("score", 1, { x100: 300, mood: 1 })).toEqual({ code: "unknown_field", field: "mood" });
  expect(problem_in("doe", 1, { f: { name: "x".repeat(41) }, base: {} })).toEqual({
    code: "too_long", field: "f.name", high: 40,
  });
  expect(problem_in("fed", 1, { adds: false, lines: [{ to: "", feed: "hay", g: 600_001 }] })).toEqual({
    code: "range", field: "lines.0.g", low: 0, high: 600_000,
  });
  const bred = { from_on: "2026-08-02", to_on: "2026-08-01", how: "hand", buck: "" };
  expect(problem_in("bred", 1, bred)).toEqual({ code: "together", field: "to_on" });
});

test("a herd rule out of its range is told at the form", () => {
  const { event } = read("events/rules.v1.json") as { event: Envelope };
  const high = changed(event, "data.f.preg_days_mini", 200);
  expect(problem_of(high)).toEqual({ code: "range", field: "f.preg_days_mini", low: 140, high: 155 });
  expect(problem_of(event)).toBeNull();
});

test("content that is no table of fields is refused whatever the kind and version", () => {
  const made = (read("events/udder.v1.json") as { event: Envelope }).event;
  for (const [kind, v] of [["udder", 1], ["udder", 9], ["void", 2], ["ketones", 1]] as const) {
    for (const data of [null, 5, "text", [], [{}], true]) {
      expect(problem_of({ ...made, kind, v, data: data as never })).toEqual({ code: "nothing", field: "data" });
    }
  }
});
