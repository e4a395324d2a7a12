import { expect, test } from "vitest";
import { FarmZone } from "../../src/core/base/days.ts";
import type { Envelope } from "../../src/core/events/events.ts";
import { is_odd } from "../../src/core/phone/odd_clock.ts";

const ZONE = new FarmZone("Europe/Vienna");
const NOON = Date.UTC(2026, 10, 25, 11);
const DAY = 86_400_000;

function made(kind: string, happened: number, on: string, at = NOON): Envelope {
  const hlc = `${at.toString(16).padStart(12, "0")}-0000-aaaaaaaa`;
  const who = { id: "", subject: "", slot: "", author: "", device: "" } as const;
  return { ...who, kind, v: 1, happened, entered: at, hlc, on, data: {} };
}

/** The same as in tests/services/test_clocks.py. */
test.each([
  ["score", 6 * 365 * DAY, "2026-11-25", true], ["score", 0, "2099-01-01", true], ["score", 0, "2026-11-27", true],
  ["score", DAY + 1, "2026-11-25", true], ["score", DAY, "2026-11-26", false], ["moved", 0, "2026-11-26", false],
  ["kidded", 0, "2027-02-01", true], ["treatment", 0, "2027-02-01", true], ["score", -40 * DAY, "2026-10-01", false],
  ["ration", 0, "2027-02-01", false], ["freeze", 0, "2027-02-01", false], ["doe", 400 * DAY, "2028-02-01", false],
  ["strange", 400 * DAY, "2028-02-01", false],
])("%s, %i ms ahead, on %s: asked about %s", (kind, ahead_ms, on, odd) => {
  expect(is_odd(made(kind, NOON + ahead_ms, on), NOON, ZONE)).toBe(odd);
});

test("just before midnight a phone a little ahead may date a move tomorrow", () => {
  const late = Date.UTC(2026, 10, 25, 22, 55);
  expect(is_odd(made("moved", late, "2026-11-27", late), late, ZONE)).toBe(false);
});
