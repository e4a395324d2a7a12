import { describe, expect, it } from "vitest";
import { resting } from "../../src/core/outlook/words/resting.ts";
import type { DoeResult } from "../../src/core/outlook/ground/shapes.ts";
import type { Doe } from "../../src/core/state/view.ts";
import { PHASE } from "../../src/core/tables/codes.ts";

/** What stands where no prompt does: the watch near kidding, and "nothing to do" only over lines that are not short. */
const TODAY = "2026-11-20";
const NOW = Date.UTC(2026, 10, 20, 21, 40);
const HOUR = 3_600_000;
const BRED = { from: "2026-07-01", to: "2026-07-01", how: "hand", ev: "b" };
const LATE_DAY = 100;

function doe(over: Partial<Doe> = {}): Doe {
  return { bred: BRED, check: null, kidded: null, dried_on: "", signs: [], ...over } as unknown as Doe;
}

function result(phase: number, states: Record<string, string> = {}, gest = 110): DoeResult {
  const lines = Object.fromEntries(["me", "cp", "ca", "p"].map((key) => [key, { st: states[key] ?? "level" }]));
  return { phase, gest, lines, on_acts: [] } as unknown as DoeResult;
}

const say = (of: DoeResult, who: Doe = doe(), now = NOW) => resting(of, who, TODAY, now, LATE_DAY);
const looked = (hours_ago: number, seen: string[]): Partial<Doe> => ({
  signs: [[NOW - hours_ago * HOUR, seen, [], "ada", "s", TODAY]],
});

describe("nothing to do", () => {
  it("stands only where every line is level", () => {
    expect(say(result(PHASE.dry))).toEqual({ code: "level", args: { short: [] } });
    expect(say(result(PHASE.settled, { p: "unknown" })).code).toBe("level");
  });
  it.each(["me", "cp", "ca", "p"])("never over a line of %s that is short", (key) => {
    expect(say(result(PHASE.dry, { [key]: "short" }))).toEqual({ code: "short", args: { short: [key] } });
  });
  it("nor over energy that is over", () => {
    expect(say(result(PHASE.dry, { me: "over" })).code).toBe("over");
  });
});

const NOBODY = {
  signs: "quiet", there: [], hours: 6, last_ms: 0, next_ms: 0, due_ms: 0, early: false, past_d: 0,
};

describe("near kidding it is the watch", () => {
  it("from close-up, with what is short beside it", () => {
    expect(say(result(PHASE.close_up, { p: "short" }))).toEqual({ code: "close_up", args: { short: ["p"] } });
  });
  it("asks for a look where none was written down for weeks", () => {
    for (const who of [doe(), doe(looked(22 * 24, []))])
      expect(say(result(PHASE.kidding_watch), who)).toEqual({ code: "watch", args: NOBODY });
  });
  it("says when the next look is, and that it is due", () => {
    const last_ms = NOW - HOUR;
    const next_ms = last_ms + 6 * HOUR;
    const args = { ...NOBODY, last_ms, next_ms, due_ms: next_ms };
    expect(say(result(PHASE.kidding_watch), doe(looked(1, []))).args).toEqual(args);
    expect(say(result(PHASE.kidding_watch), doe(looked(7, []))).args["next_ms"]).toBe(0);
  });
  it("comes closer with signs, and closer still once she paws", () => {
    const hours = (seen: string[]) => say(result(PHASE.kidding_watch), doe(looked(0, seen))).args["hours"];
    expect([[], ["udder_full"], ["ligaments_gone"], ["ligaments_gone", "pawing"]].map(hours)).toEqual([6, 6, 2, 1]);
  });
  it("starts with signs whatever her dates say, and never for a doe that carries nothing", () => {
    expect(say(result(PHASE.dry), doe(looked(1, ["ligaments_gone"]))).code).toBe("watch");
    expect(say(result(PHASE.open, {}, -1), doe({ bred: null, ...looked(1, ["ligaments_gone"]) })).code).toBe("level");
  });
  it("names three kids late, not early", () => {
    const three = doe({ check: { on: "2026-08-20", result: "pregnant", kids: 3, aged_d: 0, ev: "c" } });
    expect(say(result(PHASE.dry, {}, 120), three).code).toBe("many");
    expect(say(result(PHASE.dry, {}, 80), three).code).toBe("level");
  });
});

describe("a look that was not made", () => {
  it("is not over because nobody looked: a sign is asked after for days, and near her days a look for weeks", () => {
    expect(say(result(PHASE.dry), doe(looked(29.5, ["teats_strutted"])))).toMatchObject({
      code: "watch", args: { signs: "signs", there: ["teats_strutted"], next_ms: 0, due_ms: NOW - 27.5 * HOUR },
    });
    expect(say(result(PHASE.dry), doe(looked(8 * 24, ["teats_strutted"]))).code).toBe("level");
    expect(say(result(PHASE.kidding_watch), doe(looked(100, []))).args["due_ms"]).toBe(NOW - 94 * HOUR);
  });
});

describe("after kidding and around dry-off", () => {
  const kidded = (on: string) => ({ on, born: 2, alive: 2, timed: false, ev: "k", at: 0 });
  it("is a look morning and evening to the third day, then one a day", () => {
    const fresh = (on: string) => say(result(PHASE.fresh, {}, -1), doe({ bred: null, kidded: kidded(on) })).code;
    expect(["2026-11-20", "2026-11-17", "2026-11-16", "2026-11-02"].map(fresh)).toEqual([
      "fresh", "fresh", "fresh_daily", "fresh_daily",
    ]);
  });
  it("is no rest past a dry-off day nobody has written down", () => {
    const milker = doe({ kidded: kidded("2026-02-01") });
    expect(say(result(PHASE.dry), milker).code).toBe("not_dried");
    expect(say(result(PHASE.dry), { ...milker, dried_on: "2026-10-01" }).code).toBe("level");
    expect(say(result(PHASE.drying_off), milker).code).toBe("drying_off");
  });
});
