import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import type { OffFeed } from "../../core/outlook/ground/shapes.ts";
import { howOf, takeOf } from "../sentences/prompt.ts";
import { has, t } from "../words/text.ts";

/** The first thing to say: how soon somebody has to come. */
export const flagOf = ({ args }: OffFeed) => t(`off.flag.${args.urgency}`);

export function whatOf(name: string, { args }: OffFeed): string {
  return t("off.what", { name, how: howOf(args), stage: t(`stage.${args.stage}`) });
}

/** What to do now, by her stage and by what was seen; then the readings nobody has taken yet. */
export function doNow({ args }: OffFeed): string {
  const { stage, urgency, down, passes, how } = args;
  const seen = [
    down && urgency !== "called" && "down", urgency === "called" && "called", urgency === "vet_now" && "vet",
    stage === "buck" && passes, how === "refused" ? "refused" : "some",
  ];
  const keys = seen.filter(Boolean).flatMap((one) => [`off.do.${stage}.${String(one)}`, `off.do.${String(one)}`]);
  return [t(keys.find(has)!), takeOf(args)].filter(Boolean).join(" ");
}

/** A buck is "he". */
export const ofBuck = (key: string, { args }: OffFeed) =>
  t([`${key}.${args.stage}`, key].find(has)!, {});

/** Whoever looked last, or else saw it first. */
export function authorOf(said: OffFeed): string {
  const seen = day.view.intakes.find(({ ev }) => ev === said.args.ev);
  return session.who(said.looked?.author ?? seen?.author ?? "");
}
