import { kiddedBefore } from "../farm/kidded_before.ts";
import { enterDoe } from "../farm/new_doe.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import type { Data } from "../model/shapes.ts";
import { begun } from "../start/begun.svelte.ts";
import { bredWhen, onWeek, sizeFields } from "./facts.ts";
import { feedHer, since } from "./feed.ts";
import { HERS, homePen, inMilk } from "./way.ts";

/** What is known of her without a date, as a pregnancy check. */
const CHECKS: Record<string, "unsure" | "pregnant"> = { unsure: "unsure", yes: "pregnant" };

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
  session.atOnce(() => {
    enterDoe(id, fields, {
      kidded: inMilk(state) && kidded_when
        ? { on: onWeek(kidded_when, day.today), born: Number(begun.said("kids")) } : null,
      bred: bredWhen(begun.said("bred"), day.today), check: CHECKS[begun.said("bred")] ?? "",
      pen, pen_on: since(pen), quiet: true,
    });
    feedHer(id, pen, grain_g);
  });
  begun.forget(...HERS.filter((key) => key !== "pen"));
  begun.put({ doe: id });
  // Her numbers come from the server: ask now, while she is looked at.
  void session.farm?.schedule.asked();
  return id;
}
