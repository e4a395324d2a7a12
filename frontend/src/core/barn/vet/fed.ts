import { addDays } from "../../base/days.ts";
import { div } from "../../base/ints.ts";
import { pen_on } from "../../state/where.ts";
import type { Doe, Feeding, Intake, View } from "../../state/view.ts";
import { WEEK_D } from "../../tables/numbers.ts";
import { RULES } from "../../tables/rules.ts";

/** What was put before her and what she left, week by week, as fed. */
export interface FedLine {
  feed: string;
  /** Given to her alone; else her share of the pen's by heads. */
  own: boolean;
  offered_g: number;
  left_g: number;
}

export interface Week {
  from: string;
  to: string;
  days: number;
  /** Days on which somebody recorded a feeding that reached her. */
  fed_days: number;
  /** Two people fed one meal, and nobody has said which one counts: both are in the sums. */
  twice: boolean;
  lines: FedLine[];
}

export interface Clean {
  on: string;
  slot: string;
}

const ABOUT_LEFT = ["ate_all", "left_some", "refused"];

/** The last days, newest week first, back to the oldest that somebody recorded; the last may be short. */
export function fed_weeks(view: View, doe: Doe, today: string, back_d: number): Week[] {
  const days = Array.from({ length: back_d }, (_, back) => addDays(today, -back));
  const by_day = grouped(view.feedings.filter(({ on }) => on >= days.at(-1)! && on <= today));
  const said = view.intakes.filter(({ how }) => ABOUT_LEFT.includes(how));
  const weeks: Week[] = [];
  for (let at = 0; at < days.length; at += WEEK_D)
    weeks.push(week_of(view, doe, days.slice(at, at + WEEK_D), by_day, said));
  while (weeks.length && weeks.at(-1)!.fed_days === 0) weeks.pop();
  return weeks;
}

function week_of(view: View, doe: Doe, days: string[], by_day: Map<string, Feeding[]>, said: Intake[]): Week {
  const lines = new Map<string, FedLine>();
  const slots = new Set<string>();
  let twice = false;
  const fed = days.filter((on) => {
    const reached = (by_day.get(on) ?? []).filter((feeding) => add(view, doe, feeding, said, lines));
    for (const { slot } of reached.filter(({ adds }) => !adds)) {
      twice ||= slots.has(on + slot);
      slots.add(on + slot);
    }
    return reached.length > 0;
  });
  const sorted = [...lines.values()].sort((a, b) => Number(b.own) - Number(a.own) || b.offered_g - a.offered_g);
  return { from: days.at(-1)!, to: days[0]!, days: days.length, fed_days: fed.length, twice, lines: sorted };
}

/** Says whether any of it reached her. */
function add(view: View, doe: Doe, feeding: Feeding, said: Intake[], lines: Map<string, FedLine>): boolean {
  const { subject, on } = feeding;
  const shares = subject === pen_on(doe, on) && subject !== "";
  let reached = false;
  for (const [to, feed, g] of feeding.lines) {
    const own = (to || subject) === doe.id;
    if (!own && (to !== "" || !shares)) continue;
    const offered_g = own ? g : div(g, Math.max(1, heads(view, subject, on)));
    const left_pm = left_of(said, own ? doe.id : subject, feeding, feed);
    const line = lines.get(`${own}|${feed}`) ?? { feed, own, offered_g: 0, left_g: 0 };
    lines.set(`${own}|${feed}`, {
      ...line, offered_g: line.offered_g + offered_g, left_g: line.left_g + div(offered_g * left_pm, 1000),
    });
    reached = true;
  }
  return reached;
}

function heads(view: View, pen: string, on: string): number {
  return Object.values(view.does).filter((doe) => pen_on(doe, on) === pen && !(doe.left_on && doe.left_on <= on))
    .length;
}

/** The last word about that feed, or about the whole meal; our usual where some was left and nobody said how much. */
function left_of(said: Intake[], subject: string, { on, slot }: Feeding, feed: string): number {
  const about = said.filter(
    (one) => one.subject === subject && one.on === on && one.slot === slot && (!one.feed || one.feed === feed),
  );
  const last = about.at(-1);
  return last?.how === "left_some" && last.left_pm === 0 ? RULES.left_unsaid_pm[0] : Math.min(1000, last?.left_pm ?? 0);
}

/** The last recorded meal that nobody said anything against: where her trouble begins. */
export function last_clean_of(view: View, doe: Doe, today: string, back_d: number): Clean | null {
  const since = addDays(today, -back_d);
  const key = ({ on, slot }: Clean) => `${on}|${slot}`;
  const against = new Set(view.intakes.filter(({ subject, how }) => subject === doe.id && how !== "ate_all").map(key));
  const eaten = view.intakes.filter(({ subject, how }) => subject === doe.id && how === "ate_all");
  const fed = view.feedings.filter((feeding) => add(view, doe, feeding, [], new Map()) && !against.has(key(feeding)));
  const last = [...eaten, ...fed]
    .filter(({ on }) => on >= since && on <= today)
    .sort((a, b) => a.happened - b.happened)
    .at(-1);
  return last ? { on: last.on, slot: last.slot } : null;
}

function grouped(feedings: Feeding[]): Map<string, Feeding[]> {
  const days = new Map<string, Feeding[]>();
  for (const feeding of feedings) {
    const day = days.get(feeding.on);
    if (day) day.push(feeding);
    else days.set(feeding.on, [feeding]);
  }
  return days;
}
