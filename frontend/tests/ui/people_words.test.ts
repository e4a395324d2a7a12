import { globSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, expect, test, vi } from "vitest";
import english from "../../src/texts/en.json";
import { speak } from "../../src/ui/words/text.ts";

vi.mock("../../src/ui/model/day.svelte.ts", () => ({ day: { spoken: (on: string) => on } }));
vi.mock("../../src/ui/model/session.svelte.ts", () => ({ session: { zone: "UTC" } }));
const { auditSaid, byDay, minutesLeft } = await import("../../src/ui/people/words.ts");
const { deviceSaid } = await import("../../src/ui/me/device.ts");

const ROOT = join(import.meta.dirname, "../../..");
const row = {
  id: 1, at: Date.UTC(2026, 4, 4, 9, 30), person: "p1", name: "Ada", what: "sign_in", about: "", detail: "",
};

beforeAll(() => speak(english, "en"));

test("who changed whose role is said with both", () => {
  const said = auditSaid({ ...row, what: "role_changed", about: "Ben", detail: "helper family" });
  expect(said).toBe("Ada made Ben family (helper before).");
});

test("whoever is gone for good is somebody, and a thing without words says so", () => {
  expect(auditSaid({ ...row, name: "", what: "sign_out" })).toBe("Someone signed out.");
  expect(auditSaid({ ...row, what: "from_a_later_server" })).toContain("no words");
});

test("what the server adds in English, an address, is not shown", () => {
  expect(auditSaid({ ...row, what: "sign_in_failed", detail: "from 203.0.113.9" })).not.toContain("203");
});

/** What stands between the brackets that open at FROM, by its commas. */
function argumentsAt(code: string, from: number): string[] {
  const parts = [""];
  for (let at = from + 1, depth = 0; depth >= 0; at++) {
    const sign = code[at]!;
    depth += "([{".includes(sign) ? 1 : ")]}".includes(sign) ? -1 : 0;
    if (sign === "," && depth === 0) parts.push("");
    else if (depth >= 0) parts[parts.length - 1] += sign;
  }
  return parts.map((part) => part.trim());
}

// What a call names by a word of its own instead of in quotes.
const NAMED: Record<string, string[]> = {
  NEW_EPOCH: ["new_epoch"], LET_IN: ["let_in"], DISMISSED: ["dismissed"], why: ["left", "removed", "ended"],
  "SET_OR_GONE[name, bool(day)]": ["first_day_set", "first_day_gone", "last_day_set", "last_day_gone"],
};

/** Each thing the server writes down has a sentence of its own. */
test("everything that is written down can be read", () => {
  const files = globSync("{herd,api}/**/*.py", { cwd: ROOT });
  const calls = files.flatMap((file) => {
    const code = readFileSync(join(ROOT, file), "utf8");
    return [...code.matchAll(/(?<!def )\baudit\(/g)].map(({ index }) => argumentsAt(code, index + "audit".length)[2]!);
  });
  expect(calls.length).toBeGreaterThan(30);
  const quoted = (what: string) => [...what.matchAll(/(?<!\[)"([a-z_]+)"/g)].map(([, one]) => one!);
  const kinds = calls.flatMap((what) => NAMED[what] ?? quoted(what));
  expect(calls.filter((what) => !NAMED[what] && !/"[a-z_]+"/.test(what))).toEqual([]);
  const texts = english as Record<string, string>;
  expect([...new Set(kinds)].filter((what) => !texts[`audit.${what}`])).toEqual([]);
});

test("by the farm's own days, in the order they came", () => {
  const rows = [row, { ...row, id: 2, at: row.at - 3_600_000 }, { ...row, id: 3, at: row.at - 86_400_000 }];
  expect(byDay(rows, "UTC").map(({ on, rows }) => [on, rows.map(({ at }) => at)])).toEqual([
    ["2026-05-04", ["09:30", "08:30"]], ["2026-05-03", ["09:30"]],
  ]);
  expect(byDay([row], "Pacific/Kiritimati")[0]!.on).toBe("2026-05-04");
  expect(byDay([{ ...row, at: Date.UTC(2026, 4, 4, 20) }], "Pacific/Kiritimati")[0]!.on).toBe("2026-05-05");
});

test("begun minutes count, and there are none after the end", () => {
  expect([minutesLeft(600_000, 0), minutesLeft(600_000, 1), minutesLeft(60_001, 0), minutesLeft(0, 5)])
    .toEqual([10, 10, 2, 0]);
});

test.each([
  ["Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) Version/18 Mobile Safari/604", "iPhone, Safari"],
  ["Mozilla/5.0 (Linux; Android 15) AppleWebKit/537 Chrome/140.0 Mobile Safari/537", "Android, Chrome"],
  ["Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0", "Linux, Firefox"],
  ["curl/8", "A browser"],
])("%s is %s", (agent, said) => expect(deviceSaid(agent)).toBe(said));
