import { DAY_MS, HOUR_MS } from "../../base/days.ts";
import type { Doe } from "../../state/view.ts";
import { is_buck } from "../ground/branches.ts";
import { days_between, type Context } from "../ground/context.ts";
import { FIRST_DAYS_D, KIDDING_SPAN_H, KIDDING_UNSAID_H } from "../../tables/numbers.ts";
import { is_dead, litter_of, written_n, type Line } from "./litter.ts";

/** When her last kids came, as far as anybody said: each kid tapped as it came, or the hour of the last one. */
export interface Kidding {
  first_ms: number;
  last_ms: number;
  /** False where nobody said the hour: both times are then the earliest they may have been. */
  timed: boolean;
  days: number;
  born: number;
  alive: number;
  /** Those that have records. */
  litter: Line[];
}

/** Kids that came before anybody wrote a kidding down count as one that is going on. */
export function kidding_of(ctx: Context, id: string): Kidding | null {
  const doe = ctx.doe(id);
  if (is_buck(doe)) return null;
  return under_way(ctx, doe) ?? written(ctx, doe);
}

const kids_out = ({ signs }: Doe) => signs.filter(([, seen]) => seen.includes("kid_out"));

function written(ctx: Context, doe: Doe): Kidding | null {
  const { kidded } = doe;
  const days = kidded ? days_between(kidded.on, ctx.day) : -1;
  if (!kidded || days < 0) return null;
  const { at, born, alive, ev } = kidded;
  const tapped = kids_out(doe).filter((row) => Math.abs(row[0] - at) <= KIDDING_SPAN_H * HOUR_MS);
  const lines = days <= FIRST_DAYS_D ? litter_of(ctx.view, doe.id, at) : [];
  // ids sort by when they were written: a kid tapped after the kidding was put down is one more
  const more = lines.length ? beyond(lines, born) : tapped.filter((row) => row[4] > ev).length;
  const times = [...tapped.map((row) => row[0]), ...(kidded.timed ? [at] : [])];
  const timed = times.length > 0;
  if (!timed) times.push(at - KIDDING_UNSAID_H * HOUR_MS);
  const [first_ms, last_ms] = [Math.min(...times), Math.max(...times)];
  const alive_more = Math.min(more, lines.length ? lines.filter((kid) => !is_dead(kid)).length : more);
  return { first_ms, last_ms, timed, days, born: born + more, alive: alive + alive_more, litter: lines };
}

/** Kids with records besides those that were written down: later ones, and what another phone put down apart. */
function beyond(lines: Line[], born: number): number {
  const among = lines.filter((kid) => written_n(kid) <= born).length;
  return lines.length - among + Math.max(0, among - born);
}

/** When the last kid was tapped of a kidding that nobody has written down yet; 0 where there is none. */
export function last_out_ms(doe: Doe, now_ms: number): number {
  const { kidded } = doe;
  const at_ms = kids_out(doe).filter(([at]) => at <= now_ms && now_ms - at < FIRST_DAYS_D * DAY_MS).at(-1)?.[0] ?? 0;
  return kidded && at_ms <= kidded.at + KIDDING_SPAN_H * HOUR_MS ? 0 : at_ms;
}

export function under_way(ctx: Context, doe: Doe): Kidding | null {
  const since = doe.kidded ? doe.kidded.at + KIDDING_SPAN_H * HOUR_MS : 0;
  const rows = kids_out(doe).filter(([at, , , , , on]) => at > since && days_between(on, ctx.day) >= 0);
  const times = rows.map((row) => row[0]);
  const days = rows.length ? days_between(rows[0]![5], ctx.day) : 0;
  if (!rows.length || days > FIRST_DAYS_D) return null;
  const [first_ms, last_ms] = [times[0]!, times.at(-1)!];
  const lines = litter_of(ctx.view, doe.id, first_ms, last_ms);
  const twice = lines.flatMap(({ others }) => others).length;
  const born = lines.length ? Math.max(lines.length, most_by_one(rows) - twice) : rows.length;
  const alive = born - lines.filter(is_dead).length;
  return { first_ms, last_ms, timed: true, days, born, alive, litter: lines };
}

/** Two who both tap the same kids have seen no more of them: where kids have records, one person's taps are counted. */
function most_by_one(rows: Doe["signs"]): number {
  const authors = rows.map((row) => row[3]);
  return Math.max(...authors.map((one) => authors.filter((other) => other === one).length));
}
