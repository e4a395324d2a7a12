import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import type { OffFeed } from "../../core/outlook/shapes.ts";
import { has, t } from "../words/text.ts";

/** The first thing to say: how soon somebody has to come. */
export const flagOf = ({ args }: OffFeed) => t(`off.flag.${args.urgency}`);

export function whatOf(name: string, { args }: OffFeed): string {
  const how = t(`how.${args.how === "left_some" && !args.left_pm ? "left_unsaid" : args.how}`);
  return t("off.what", { name, how, stage: t(`stage.${args.stage}`) });
}

/** What to do now, by her stage and by what was seen. */
export function doNow({ args }: OffFeed): string {
  const seen = args.urgency === "called" ? "called" : args.down ? "down" : args.how === "refused" ? "refused" : "some";
  return t([`off.do.${args.stage}.${seen}`, `off.do.${seen}`].find(has)!);
}

/** "25 min", "3 h 40 min" */
export function away(minutes: number): string {
  const [h, min] = [Math.floor(Math.abs(minutes) / 60), Math.abs(minutes) % 60];
  return h ? t(min ? "off.h_min" : "off.h", { h, min }) : t("off.min", { min });
}

/** Whoever looked last, or else saw it first. */
export function authorOf(said: OffFeed): string {
  const seen = day.view.intakes.find(({ ev }) => ev === said.args.ev);
  return session.who(said.looked?.author ?? seen?.author ?? "");
}
