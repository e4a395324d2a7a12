import { expect, test } from "vitest";
import { due_by_calendar } from "../../src/core/outlook/kidding/overdue.ts";
import { resting } from "../../src/core/outlook/words/resting.ts";
import type { DoeResult } from "../../src/core/outlook/ground/shapes.ts";
import { new_doe } from "../../src/core/state/doe_state.ts";
import type { Doe } from "../../src/core/state/view.ts";

/** Buck in and buck out, written down on a phone that has not been near a signal since. */
const exposed = (size: string, from: string, to: string): Doe =>
  ({ ...new_doe("d"), f: { sex: "doe", size }, bred: { from, to, how: "pen", ev: "b", on: from, hlc: "" } });

test("a doe a buck was in with has a window by the calendar, from the first day to the last", () => {
  const due = due_by_calendar(exposed("standard", "2026-07-01", "2026-07-21"));
  // usual length 150 days: common practice, no source
  expect(due?.mid).toBe("2026-12-08");
  expect(due!.early < "2026-11-28" && due!.late > "2026-12-18").toBe(true);
  expect(due_by_calendar(exposed("mini", "2026-07-01", "2026-07-01"))?.mid).toBe("2026-11-23");
  expect(due_by_calendar({ ...new_doe("d"), bred: null })).toBeNull();
});

test("and is watched in it, before a server has worked anything out", () => {
  const doe = exposed("standard", "2026-07-01", "2026-07-21");
  const due = due_by_calendar(doe);
  const result = { phase: -1, gest: -1, lines: {}, on_acts: [], due } as unknown as DoeResult;
  expect(resting(result, doe, "2026-12-01", Date.UTC(2026, 11, 1, 9), 100).code).toBe("watch");
  expect(resting(result, doe, "2026-10-01", Date.UTC(2026, 9, 1, 9), 100).code).not.toBe("watch");
});
