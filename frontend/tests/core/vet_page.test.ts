import { expect, test } from "vitest";
import type { Outlook } from "../../src/core/outlook/ground/documents.ts";
import { vet_page } from "../../src/core/barn/vet_page.ts";
import { at, ate, doe, fed, HAY, HER, OATS, PEN, ration, TODAY, view } from "../support/vet.ts";

const page = (of: Parameters<typeof view>[0], outlook: Outlook | null = null) =>
  vet_page(view(of), HER, TODAY, outlook)!;

test("a doe with nothing but a name has a page", () => {
  const bare = page({ does: { [HER]: doe(HER, { f: { name: "Clary" }, moves: [], pen: "" }) } });
  expect(bare).toMatchObject({
    age_months: null, weight: null, worked_g: 0, carrying: null, due: null, litter_x100: 0, kiddings: 0,
    last_clean: null, happened: [], changes: [], weeks: [], scores: [], weights: [], treatments: [], freeze: null,
  });
  expect(vet_page(view(), HER, TODAY)).toBeNull();
});

test("who she is: age in months, the last weight and its age, kiddings before and since", () => {
  const f = { born_on: "2021-04-01", kiddings_before: 2 };
  const her = doe(HER, {
    f, kiddings: 1,
    weights: [
      ["2026-01-02", 30_000, "scale", "a"], ["2026-03-11", 32_500, "tape", "b"],
    ],
  });
  const { age_months, weight, kiddings, weights } = page({ does: { [HER]: her } });
  expect(age_months).toBe(59);
  expect(weight).toEqual({ g: 32_500, on: "2026-03-11", how: "tape", age_d: 20 });
  expect(kiddings).toBe(3);
  expect(weights.map(([on]) => on)).toEqual(["2026-03-11"]);
});

test("a window of breeding gives two days of gestation, a hand-bred doe one", () => {
  const bred = (from: string, to: string, how: string) =>
    page({ does: { [HER]: doe(HER, { bred: { from, to, how, ev: "", on: from } }) } }).carrying;
  expect(bred("2025-11-16", "2025-11-16", "hand")).toMatchObject({ low_d: 135, high_d: 135 });
  expect(bred("2025-11-01", "2025-11-18", "pen")).toMatchObject({ how: "pen", low_d: 133, high_d: 150 });
});

test("an outlook that was worked out for an earlier breeding says nothing of dates and kids", () => {
  const due = { early: "2026-04-05", mid: "2026-04-10", late: "2026-04-15", printed: "2026-04-10" };
  const made = (bred: string) =>
    ({ basis: { bred }, due, who: { mass_g: 33_000, litter_x100: 190, litter_from: "prior" } }) as unknown as Outlook;
  const bred = { from: "2025-11-16", to: "2025-11-16", how: "hand", ev: "", on: "2025-11-16" };
  const does = { [HER]: doe(HER, { bred }) };
  expect(page({ does }, made("2025-11-16/2025-11-16"))).toMatchObject({ due, litter_x100: 190, worked_g: 33_000 });
  expect(page({ does }, made("2025-10-01/2025-10-01"))).toMatchObject({ due: null, litter_x100: 0, worked_g: 33_000 });
});

test("a week of feed: hers alone with what she left, and her share of the pen's hay by heads", () => {
  const does = { [HER]: doe(HER), b: doe("b"), c: doe("c"), sold: doe("sold", { left_on: "2026-03-01" }) };
  const feedings = [
    fed("2026-03-30", "morning", [["", HAY, 3_000], [HER, OATS, 100], ["b", OATS, 900]]),
    fed("2026-03-31", "morning", [["", HAY, 3_000], [HER, OATS, 100]]),
  ];
  const intakes = [
    ate("2026-03-31", "morning", "left_some", 250), ate("2026-03-31", "morning", "left_some", 700),
    ate("2026-03-31", "morning", "slow"),
  ];
  const { weeks } = page({ does, feedings, intakes });
  expect(weeks).toEqual([
    {
      from: "2026-03-25", to: "2026-03-31", days: 7, fed_days: 2, twice: false,
      lines: [
        { feed: OATS, own: true, offered_g: 200, left_g: 70 },
        { feed: HAY, own: false, offered_g: 2_000, left_g: 0 },
      ],
    },
  ]);
});

test("what was left of one feed is not taken off another, and a pen's leavings come off the shared hay", () => {
  const feedings = [
    fed("2026-03-31", "evening", [
      ["", HAY, 2_000], [HER, OATS, 300], [HER, "pellets", 100],
    ]),
  ];
  const intakes = [
    ate("2026-03-31", "evening", "left_some", 500, { feed: OATS }),
    ate("2026-03-31", "evening", "left_some", 100, { subject: PEN }),
  ];
  const [week] = page({ does: { [HER]: doe(HER) }, feedings, intakes }).weeks;
  expect(week!.lines.map(({ feed, left_g }) => [feed, left_g])).toEqual([[OATS, 150], ["pellets", 0], [HAY, 200]]);
});

test("sixty days and no more; weeks back to the oldest that was recorded, a week with nothing in between stays", () => {
  const feedings = ["2026-01-30", "2026-01-31", "2026-03-31"].map((on) => fed(on, "morning", [[HER, OATS, 100]]));
  const { weeks } = page({ does: { [HER]: doe(HER) }, feedings });
  expect(weeks.map(({ from, days, fed_days }) => [from, days, fed_days])).toEqual([
    ["2026-03-25", 7, 1],
    ...["2026-03-18", "2026-03-11", "2026-03-04", "2026-02-25", "2026-02-18", "2026-02-11", "2026-02-04"].map((on) => [
      on, 7, 0,
    ]),
    ["2026-01-31", 4, 1],
  ]);
});

test("a meal that two people fed is marked; one that was said to come on top is not", () => {
  const twice = [
    fed("2026-03-31", "morning", [[HER, OATS, 100]]), fed("2026-03-31", "morning", [[HER, OATS, 120]], { ev: "2" }),
  ];
  const does = { [HER]: doe(HER) };
  expect(page({ does, feedings: twice }).weeks[0]).toMatchObject({ twice: true });
  const on_top = [twice[0]!, { ...twice[1]!, adds: true }];
  expect(page({ does, feedings: on_top }).weeks[0]).toMatchObject({ twice: false });
});

test("feed in the pen she was in that day, not in the one she is in now", () => {
  const moved = doe(HER, {
    moves: [
      ["2026-01-01", "old", ""], ["2026-03-31", PEN, ""],
    ],
  });
  const feedings = [
    fed("2026-03-30", "morning", [["", HAY, 900]]),
    fed("2026-03-30", "evening", [["", HAY, 700]], { subject: "old" }),
  ];
  expect(page({ does: { [HER]: moved }, feedings }).weeks[0]!.lines).toEqual([
    { feed: HAY, own: false, offered_g: 700, left_g: 0 },
  ]);
});

test("the last meal that nobody said anything against", () => {
  const feedings = ["2026-03-29", "2026-03-30", "2026-03-31"].map((on) => fed(on, "evening", [[HER, OATS, 100]]));
  const intakes = [ate("2026-03-31", "evening", "refused", 1_000), ate("2026-03-30", "evening", "slow")];
  const does = { [HER]: doe(HER) };
  expect(page({ does, feedings, intakes }).last_clean).toEqual({ on: "2026-03-29", slot: "evening" });
  expect(page({ does, intakes: [ate("2026-03-31", "morning", "ate_all")] }).last_clean).toEqual({
    on: "2026-03-31", slot: "morning",
  });
});

test("a look late in the evening is dated by the farm's own day, whatever day that is in Greenwich", () => {
  const late_ms = Date.UTC(2026, 3, 1, 2, 30);
  const her = doe(HER, { signs: [[late_ms, ["pawing"], [], "ada", "", "2026-03-31"]] });
  const told = page({ does: { [HER]: her } }).happened.map(({ on, at: when }) => [on, when]);
  expect(told).toEqual([["2026-03-31", late_ms]]);
});

test("what is read aloud: how far along, what was counted and measured, and what was not", () => {
  const seen = { cud: "", dung: "", legs: "", eyes: 0, udder: "", belly: "" };
  const due = { early: "2026-04-05", mid: "2026-04-10", late: "2026-04-15", printed: "2026-04-10" };
  const bred = { from: "2025-11-16", to: "2025-11-16", how: "hand", ev: "", on: "2025-11-16" };
  const made = { basis: { bred: "2025-11-16/2025-11-16" }, due } as unknown as Outlook;
  const her = doe(HER, {
    bred, checkups: [["2026-03-31", 7, 396, 0, "", "ada", "", seen], ["2026-03-20", 5, 0, 12, "", "ada", "", seen]],
  });
  expect(page({ does: { [HER]: her } }, made).aloud).toEqual({
    buck: false, to_go: 10, bred_d: 135, fresh_d: null, kids: 0, temp: { value: 396, at: 7 }, ketones: null,
    urine: null, passes: null,
  });
  const fresh = doe(HER, { kidded: { on: "2026-03-20", born: 2, alive: 2, timed: false, ev: "", at: 1 } });
  expect(page({ does: { [HER]: fresh } }).aloud).toMatchObject({ to_go: null, bred_d: null, fresh_d: 11, temp: null });
});

test("what happened, newest first: what went wrong at meals and the first that went right, looks, notes, turns", () => {
  const seen = { cud: "none", dung: "", legs: "", eyes: 0, udder: "", belly: "" };
  const her = doe(HER, {
    kidded: { on: "2026-03-20", born: 2, alive: 2, timed: false, ev: "", at: at("2026-03-20", "12:00") },
    checkups: [["2026-03-31", at("2026-03-31", "07:00"), 381, 12, "small", "ada", "", seen]],
    triages: [
      {
        ev: "", on: "2026-03-31", happened: at("2026-03-31", "08:00"), author: "bea", of: "", new_feed: "no",
        water_bad: "", bullied: "", suspect: "", result: "worse", left: "", passes: "", strains: "",
      },
    ],
    signs: [[at("2026-03-18", "12:00"), ["pawing"], [], "ada", "", "2026-03-18"]],
    udder: [["2026-03-01", 3, false, "ada", "", ""]],
  });
  const intakes = [
    ate("2026-03-27", "morning", "ate_all"), ate("2026-03-28", "morning", "left_some", 400),
    ate("2026-03-28", "evening", "ate_all"), ate("2026-03-29", "morning", "ate_all"),
    ate("2026-03-16", "morning", "refused", 1_000), ate("2026-03-17", "morning", "ate_all"),
  ];
  const notes = [{ ev: "", subject: HER, on: "2026-03-30", happened: at("2026-03-30"), author: "ada", text: "Dull." }];
  const { happened } = page({ does: { [HER]: her }, intakes, notes });
  expect(happened.map(({ kind, on }) => `${kind} ${on.slice(8)}`)).toEqual([
    "triage 31", "checkup 31", "note 30", "intake 28", "intake 28", "kidded 20", "signs 18",
  ]);
  expect(happened[1]!.data).toEqual({ temp_c_x10: 381, bhb_x10: 12, urine: "small", ...seen });
  expect(happened.filter(({ kind }) => kind === "intake").map(({ data }) => data["how"])).toEqual([
    "ate_all", "left_some",
  ]);
});

test("what changed at her feeder: her steps and her pen's, a new bag, another pen; not what is only planned", () => {
  const does = { [HER]: doe(HER, { moves: [["2026-01-01", "old", ""], ["2026-03-22", PEN, ""]] }) };
  const rations = {
    a: ration(HER, "morning", OATS, [["2026-01-01", 50], ["2026-03-25", 75], ["2026-04-02", 100]]),
    a2: ration(HER, "evening", OATS, [["2026-01-01", 50], ["2026-03-25", 75]]),
    b: ration(PEN, "evening", HAY, [["2026-03-30", 0]]),
    c: ration("old", "evening", HAY, [["2026-03-30", 500]]),
  };
  const bags = {
    [OATS]: [{ ev: "", on: "2026-03-28", happened: 0 }], pellets: [{ ev: "", on: "2026-03-29", happened: 0 }],
  };
  expect(page({ does, rations, bags }).changes).toEqual([
    { what: "bag", on: "2026-03-28", id: OATS, slots: [], own: false, from_g: 0, to_g: 0 },
    { what: "amount", on: "2026-03-25", id: OATS, slots: ["morning", "evening"], own: true, from_g: 50, to_g: 75 },
    { what: "pen", on: "2026-03-22", id: PEN, slots: [], own: true, from_g: 0, to_g: 0 },
  ]);
});

test("a treatment stays while milk or meat is held; a freeze that has run out is gone", () => {
  const given = (on: string, milk_until: string) => ({
    ev: on, on, author: "ada", product: "what the vet left", told: "", why: "", who: "vet", milk_until,
    meat_until: "", carries: [],
  });
  const freeze = { hlc: "",
    ev: "", on: "2026-03-20", since: "2026-03-20", until: "2026-03-30", grain_out: false, out_on: "", author: "ada",
    of: "",
  };
  const her = doe(HER, {
    treatments: [given("2025-12-01", "2026-01-01"), given("2026-01-01", TODAY), given("2026-03-01", "")], freeze,
  });
  const { treatments, freeze: held } = page({ does: { [HER]: her } });
  expect(treatments.map(({ on }) => on)).toEqual(["2026-01-01", "2026-03-01"]);
  expect(held).toBeNull();
});
