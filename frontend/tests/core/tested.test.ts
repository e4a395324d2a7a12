import { expect, test } from "vitest";
import { most_like, tested } from "../../src/core/barn/lab/tested.ts";
import type { BookFeed } from "../../src/core/outlook/ground/herd_figures.ts";

const feed = (more: Partial<BookFeed>): BookFeed => ({
  name: "", class: "grass", dm_pm: 890, me_kj_kg: 8500, cp_ug_g: 90_000, ndf_pm: 620, ca_ug_g: 4000, p_ug_g: 2000,
  cp_eq_ug_g: 90_000, ...more,
});

test("a report's figures win, energy by TDN as the book has it, and what is left out stays", () => {
  const made = tested(feed({}), { dm_pct_x10: 885, tdn_pct_x10: 520, cp_pct_x10: 98, ca_pct_x100: 45 }, "lab");
  // 0.15127 MJ x 52 = 7.866 MJ
  expect(made).toMatchObject({ dm_pm: 885, me_kj_kg: 7866, me_sd_pm: 50 });
  expect(made).toMatchObject({ cp_ug_g: 98_000, ca_ug_g: 4500, p_ug_g: 2000 });
});

test("by fibre alone energy is no surer than a table, and protein keeps the share that is used", () => {
  const made = tested(feed({ cp_eq_ug_g: 99_000 }), { tdn_pct_x10: 600, cp_pct_x10: 180 }, "fibre_legume");
  expect(made.me_sd_pm).toBeUndefined();
  expect(made.cp_eq_ug_g).toBe(198_000);
});

test("most like is the nearest of those that may be, and nothing where too little is known", () => {
  const book = {
    poor: feed({ me_kj_kg: 7000, cp_ug_g: 50_000 }), near: feed({ cp_ug_g: 95_000 }),
    rich: feed({ me_kj_kg: 9500, cp_ug_g: 200_000, ca_ug_g: 14_000 }), bare: feed({ ndf_pm: null, ca_ug_g: null }),
  };
  expect(most_like(feed({}), book, () => true)).toBe("near");
  expect(most_like(feed({}), book, (id) => id === "rich")).toBe("rich");
  const unknown = feed({ me_kj_kg: null, cp_ug_g: null, ndf_pm: null });
  expect(most_like(unknown, book, () => true)).toBe("");
});
