import { most_like, tested } from "../../core/barn/lab/tested.ts";
import type { BookFeed } from "../../core/outlook/ground/herd_figures.ts";
import { lacks_alone } from "../../core/outlook/verdict/alone.ts";
import { FEED_CLASSES } from "../../core/tables/forms.ts";
import { feedInfo } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import type { NutrientKey } from "../model/results.ts";
import { session } from "../model/session.svelte.ts";
import { in_a_row, t } from "../words/text.ts";
import type { Read } from "./lab_draft.svelte.ts";

const FORAGE = ["legume", "grass", "mixed"];
/** As many names are said one by one. */
const MOST = 6;

/** The feed a report is about as it would stand in the book; null where nothing is known of what it is like. */
export function madeOf(read: Read, id: string, about: string): BookFeed | null {
  const base = day.feeds[id] ?? day.feeds[about];
  return base ? tested(base, read.fields, read.tdn_by) : null;
}

/** Plain words on what a report makes it: what it is most like, whom it would be enough for by itself, and whom not. */
export function says(made: BookFeed): string[] {
  const { lots, feeds } = day.view;
  const forage = FORAGE.includes(made.class) || !(FEED_CLASSES as readonly string[]).includes(made.class);
  const among = (id: string) =>
    !lots[id] && !feeds[id] && (forage ? FORAGE.includes(day.feeds[id]!.class) : day.feeds[id]!.class === made.class);
  const like = most_like(made, day.feeds, among);
  const said = like ? [t("lab.like", { feed: feedInfo(day.view, day.feeds, like).name })] : [];
  return forage ? [...said, ...suits(made)] : said;
}

function suits(made: BookFeed): string[] {
  const { ctx } = session.farm!.evaluation(day.today);
  const here = Object.keys(ctx.view.does).filter((id) => ctx.here(id));
  const judged = here.flatMap((id) => {
    const lacks = lacks_alone(ctx, id, made);
    return lacks ? [{ name: day.named(id), lacks }] : [];
  });
  const enough = judged.filter(({ lacks }) => !lacks.length).map(({ name }) => name);
  const groups = new Map<string, string[]>();
  for (const { name, lacks } of judged) {
    const of = in_a_row(lacks.map((key: NutrientKey) => t(`nutrient.${key}`).toLowerCase()));
    if (of) groups.set(of, [...(groups.get(of) ?? []), name]);
  }
  const short = [...groups].map(([what, names]) => t("lab.short", { what, names: named(names) }));
  if (!judged.length) return [];
  return [enough.length ? t("lab.enough", { names: named(enough) }) : t("lab.enough.none"), ...short];
}

function named(names: string[]): string {
  const sorted = [...names].sort();
  const more = sorted.length - MOST;
  return more > 1 ? in_a_row([...sorted.slice(0, MOST), t("lab.more_does", { n: more })]) : in_a_row(sorted);
}
