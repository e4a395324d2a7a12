import * as format from "../../src/ui/words/format.ts";

/** The farm and the day that are read, in place of the phone's own. */
export const day = {
  view: {},
  feeds: {},
  results: { does: {} as Record<string, unknown> },
  today: "",
  now: 0,
  units: "metric" as const,
  judged: { doe: (id: string) => day.results.does[id] },
  named: (id: string): string => {
    const { does, pens } = day.view as Record<string, Record<string, { f: { name: string } }>>;
    return (does![id] ?? pens![id])?.f.name ?? "";
  },
  spoken: (on: string) => format.day(on, day.today),
  mealDay: (on: string) => format.mealDay(on, day.today),
  amount: (g: number) => format.amount(g, "metric"),
  clock: (ms: number) => new Date(ms).toISOString().slice(11, 16),
  near: (ms: number) =>
    Math.abs(ms - day.now) > 43_200_000
      ? `${day.clock(ms)} ${day.spoken(new Date(ms).toISOString().slice(0, 10))}`
      : day.clock(ms),
  when: (ms: number) => {
    const on = new Date(ms).toISOString().slice(0, 10);
    return on === day.today ? day.clock(ms) : `${day.spoken(on)} ${day.clock(ms)}`;
  },
};
export const session = {};
export const record = () => undefined;
