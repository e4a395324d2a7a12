import { expect, test } from "vitest";
import {
  age, amount, calendar, dated, day, energy, flakes, heavy, inQuarters, score, span,
} from "../../src/ui/words/format.ts";

const plain = (text: string) => text.replaceAll("\u00a0", " ");

test.each([
  [0, "0 g"], [350, "350 g"], [999, "999 g"], [1000, "1 kg"], [1460, "1.46 kg"], [12_340, "12.3 kg"],
])("%i g of feed in metric", (g, text) => {
  expect(plain(amount(g, "metric"))).toBe(text);
});

test.each([
  [57, "2 oz"], [340, "12 oz"], [454, "1 lb"], [510, "1 lb 2 oz"], [5000, "11 lb"],
])("%i g of feed in pounds and ounces", (g, text) => {
  expect(plain(amount(g, "lb"))).toBe(text);
});

test.each([
  [1100, 1100, "1 flake"], [275, 1100, "¼ flake"], [1650, 1100, "1½ flakes"], [6600, 1100, "6 flakes"],
  [50, 1100, "0 flakes"],
])("%i g at %i g a flake", (g, flake_g, text) => {
  expect(flakes(g, flake_g)).toBe(text);
});

test("body weight, energy and scores", () => {
  expect(plain(heavy(35_200, "metric"))).toBe("35.2 kg");
  expect(plain(heavy(35_200, "lb"))).toBe("77.6 lb");
  expect(plain(energy(12_552, "lb"))).toBe("3 Mcal");
  expect([score(300), score(325), score(250)]).toEqual(["3.0", "3.25", "2.5"]);
});

test("days are told from today: by name within a week, by date beyond", () => {
  const today = "2026-11-25";
  const told = ["2026-11-24", "2026-11-25", "2026-11-26", "2026-11-28", "2026-12-05", "2026-11-20", "2025-01-02"].map(
    (on) => day(on, today),
  );
  expect(told.map(plain)).toEqual(["yesterday", "today", "tomorrow", "Saturday", "5 Dec", "20 Nov", "2 Jan 2025"]);
  expect(plain(span("2026-12-01", "2026-12-14", today))).toBe("1–14 Dec");
  expect(plain(span("2026-11-28", "2026-12-03", today))).toBe("28 Nov–3 Dec");
  expect(plain(calendar("2027-02-01", today))).toBe("1 Feb");
});

test("ages in words", () => {
  expect([0, 59_000, 300_000, 7_200_000, 60 * 3_600_000].map(age)).toEqual([
    "just now", "just now", "5 min ago", "2 hours ago", "2 days ago",
  ]);
});

test("a day that must not be mistaken has its weekday and its date, however near", () => {
  expect([dated("2026-11-25", "2026-11-25"), dated("2026-12-03", "2026-11-25")].map(plain)).toEqual([
    "Wednesday 25 Nov", "Thursday 3 Dec",
  ]);
});

test("quarters as they are marked on a scoop", () => {
  expect([0, 1, 2, 3, 4, 5, 11].map(inQuarters)).toEqual(["0", "¼", "½", "¾", "1", "1¼", "2¾"]);
});
