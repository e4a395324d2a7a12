import { model } from "../model.svelte.ts";
import type { OffFeed } from "../../core/outlook/shapes.ts";
import { has, t } from "../text.ts";

/** The first thing to say: how soon somebody has to come. */
export const flagOf = ({ args }: OffFeed) => t(`off.flag.${args.urgency}`);

/** What to do now, by her stage and by what was seen. */
export function doNow(name: string, { args }: OffFeed): string {
  const seen = args.down ? "down" : args.how === "refused" ? "refused" : "some";
  const act = [`off.do.${args.stage}.${seen}`, `off.do.${seen}`].find(has)!;
  return `${t("off.what", { name, how: t(`how.${args.how === "left_some" && !args.left_pm ? "left_unsaid" : args.how}`), stage: t(`stage.${args.stage}`) })} ${t(act)}`;
}

/** "25 min", "3 h 40 min" */
export function away(minutes: number): string {
  const [h, min] = [Math.floor(Math.abs(minutes) / 60), Math.abs(minutes) % 60];
  return h ? t("off.h_min", { h, min }) : t("off.min", { min });
}

/** Whoever looked last, or else saw it first. */
export function authorOf(said: OffFeed): string {
  const seen = model.view.intakes.find(({ ev }) => ev === said.args.ev);
  return model.who(said.looked?.author ?? seen?.author ?? "");
}
