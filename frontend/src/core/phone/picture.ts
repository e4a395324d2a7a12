import type { Book } from "../outlook/ground/herd_figures.ts";
import { addDays, type Span } from "../base/days.ts";
import type { Envelope } from "../events/events.ts";
import type { DoeResult, Prompt } from "../outlook/ground/shapes.ts";
import type { Doe, View } from "../state/view.ts";
import { BUILD } from "../base/versions.ts";

/**
 * What the list of the barn showed when it was last at rest, small enough to be read before anything else. It is shown
 * only while nothing was written since, and the results in it only on the day they were worked out: nothing in it is a
 * guess.
 */
export interface Picture {
  build: string;
  day: string;
  /** How the farm's clock goes for the next days. */
  span: Span;
  view: View;
  /** The last entry in time, which decides whether the next one only adds to the view. */
  latest: Envelope | null;
  book: Book;
  does: Record<string, DoeResult>;
  pens: Record<string, Prompt | null>;
  waiting: number;
  rejected: number;
}

/**
 * Meals and looks of today and of the days whose meals are still asked about; of each doe the last records of a kind.
 */
const BACK_D = 2;
const LAST = 3;
const HISTORIES = [
  "scores", "weights", "milks", "udder", "signs", "checkups", "triages", "got_into", "kid_looks", "afterbirths",
  "dam_looks", "heats",
] as const;

export function small(view: View, day: string): View {
  const from = addDays(day, -BACK_D);
  const lately = <T extends { on: string }>(rows: T[]) => rows.filter(({ on }) => on >= from);
  return {
    ...view, feedings: lately(view.feedings), intakes: lately(view.intakes), rounds: lately(view.rounds), notes: [],
    pictures: [], voices: [], kids: {}, kit: {}, own_tasks: {}, kid_weights: [], kit_uses: [], tasks: [],
    hand_overs: view.hand_overs.slice(-1), water: [], weather: view.weather.slice(-LAST), voided: {}, parked: [],
    does: Object.fromEntries(Object.entries(view.does).map(([id, doe]) => [id, short(doe)])),
  };
}

function short(doe: Doe): Doe {
  const last = Object.fromEntries(HISTORIES.map((name) => [name, doe[name].slice(-LAST)]));
  // stamps are for who changes a record, and no form opens before everything is there
  return { ...doe, ...last, stamp: {}, by: {} };
}

/** A row shows one line of her numbers and none of the words behind it. */
export function shown(result: DoeResult): DoeResult {
  const { me } = result.lines;
  return { ...result, lines: me ? { me } : {}, fibre: null, risk: null };
}

/** Feeds that somebody gives; the rest of the book is for forms. */
export function given(book: Book, view: View): Book {
  const rows = [...Object.values(view.lots), ...Object.values(view.feeds), ...Object.values(view.scoops)];
  const named = new Set<unknown>([
    ...Object.values(view.rations).map(({ feed }) => feed),
    ...view.feedings.flatMap(({ lines }) => lines.map(([, feed]) => feed)),
    ...rows.flatMap(({ f }) => [f["feed"], f["like"]]),
  ]);
  return {
    ...book,
    feeds: Object.fromEntries(
      Object.entries(book.feeds).filter(([id, { of }]) => named.has(id) || (of && named.has(of))),
    ),
  };
}

/** Null for a picture of another build, whose shapes may be others. */
export function read(text: string): Picture | null {
  if (!text) return null;
  const picture = JSON.parse(text) as Picture;
  return picture.build === BUILD ? picture : null;
}
