import { SIZE_KG } from "../../core/tables/numbers.ts";
import { enterDoe, kiddedBefore } from "../farm/new_doe.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import type { Data } from "../model/shapes.ts";
import { begun } from "../start/begun.svelte.ts";
import { addDays } from "../words/format.ts";
import { feedHer, since } from "./feed.ts";
import { HERS, homePen, inMilk } from "./way.ts";

/** Large is no class of its own: a grown weight is taken for her until somebody weighs her. */
export function sizeFields(size: string): Data {
  return size === "large" ? { size: "standard", mature_kg: SIZE_KG.large } : { size };
}

/** "10" is ten weeks ago, give or take one; a date is that day; "no" and "unsure" are none. */
export function bredWhen(said: string, today: string) {
  if (!said || said === "no" || said === "unsure") return null;
  if (said.includes("-")) return { from_on: said, to_on: said, how: "hand" as const };
  const [from_on, to_on] = [1, -1].map((week) => addDays(today, -7 * (Number(said) + week)));
  return { from_on: from_on!, to_on: to_on!, how: "pen" as const };
}

export const onWeek = (said: string, today: string) => (said.includes("-") ? said : addDays(today, -7 * Number(said)));

/** Everything said of her becomes entries, in one act. */
export function enterHer(grain_g: number): string {
  const id = session.farm!.newId();
  const [name, size, state] = ["name", "size", "state"].map((key) => begun.said(key)) as [string, string, string];
  const pen = homePen();
  const kidded_when = begun.said("kidded");
  const fields: Data = {
    name, ...sizeFields(size || "standard"), breed: "unknown",
    ...(state ? { kiddings_before: kiddedBefore(state, 0) } : {}),
  };
  day.atOnce(() => {
    enterDoe(id, fields, {
      kidded: inMilk(state) && kidded_when
        ? { on: onWeek(kidded_when, day.today), born: Number(begun.said("kids")) } : null,
      bred: bredWhen(begun.said("bred"), day.today), unsure: begun.said("bred") === "unsure",
      pen, pen_on: since(pen), quiet: true,
    });
    feedHer(id, pen, grain_g);
  });
  begun.forget(...HERS.filter((key) => key !== "pen"));
  begun.put({ doe: id });
  // Her numbers come from the server: ask now, while she is looked at.
  void session.farm?.schedule.now();
  return id;
}
