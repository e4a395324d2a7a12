import { expect, test } from "vitest";
import { next_look } from "../../src/core/outlook/ill/next_look.ts";
import type { Doe } from "../../src/core/state/view.ts";

const HOUR = 3_600_000;
const NOW = Date.UTC(2026, 10, 20, 21, 40);
const row = (hours_ago: number, seen: string[], absent: string[] = []): Doe["signs"][number] => [
  NOW - hours_ago * HOUR, seen, absent, "ada", "s", "2026-11-20",
];

test.each([
  ["nothing seen", [row(0, [])], "quiet", 6],
  ["signs of weeks", [row(0, ["udder_full", "ligaments_soft"])], "quiet", 6],
  ["ligaments gone", [row(0, ["ligaments_gone"])], "signs", 2],
  ["she paws", [row(0, ["ligaments_gone", "pawing"])], "close", 1],
  [
    "ligaments gone, and a later look that only says she does not paw",
    [row(3, ["ligaments_gone"]), row(0, [], ["pawing"])], "signs", 2,
  ],
  ["she pawed lately and does no more", [row(3, ["pawing"]), row(0, [], ["pawing"])], "signs", 2],
  ["she pawed half a day ago and does no more", [row(13, ["pawing"]), row(0, [], ["pawing"])], "quiet", 6],
  ["ligaments gone yesterday, and looks from the gate", [row(30, ["ligaments_gone"]), row(0, [])], "signs", 2],
  ["and felt again", [row(30, ["ligaments_gone"]), row(0, [], ["ligaments_gone"])], "quiet", 6],
  ["signs of the day before yesterday", [row(30, ["pawing"]), row(0, [])], "quiet", 6],
  ["amber, and a look that finds nothing new", [row(2, ["mucus_amber"]), row(0, ["mucus_amber"])], "close", 1],
])("%s", (_, signs, told, hours) => {
  expect(next_look(signs, NOW)).toMatchObject({ signs: told, hours, last_ms: NOW, next_ms: NOW + hours * HOUR });
});

test("a look that is due by now has no time to come, and nobody's look has none either", () => {
  expect(next_look([row(2, ["ligaments_gone"])], NOW)).toMatchObject({ last_ms: NOW - 2 * HOUR, next_ms: 0 });
  expect(next_look([], NOW)).toEqual({ signs: "quiet", there: [], hours: 6, last_ms: 0, next_ms: 0 });
});

test.each([29.5, 100, 400])("a sign stands for as long as nobody looks again, %f hours later as well", (hours) => {
  const look = next_look([row(hours, ["teats_strutted"])], NOW);
  expect(look).toMatchObject({ signs: "signs", there: ["teats_strutted"], last_ms: NOW - hours * HOUR, next_ms: 0 });
});

test("what was seen weeks before is named, and its later stage instead of it", () => {
  expect(next_look([row(1, ["ligaments_soft"])], NOW)).toMatchObject({ signs: "quiet", there: ["ligaments_soft"] });
  const gone = [row(9, ["ligaments_soft"]), row(1, ["ligaments_gone"])];
  expect(next_look(gone, NOW).there).toEqual(["ligaments_gone"]);
});
