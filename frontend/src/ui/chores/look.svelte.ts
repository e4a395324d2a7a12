import { heads, recheck } from "../../core/chores.ts";
import { doesIn, nameOf, pens } from "../herd.ts";
import { model } from "../model.svelte.ts";
import { LOOK_NOW, say } from "../prompt.ts";
import type { Said } from "../../core/outlook/shapes.ts";
import type { DoeResult } from "../results.ts";
import type { Doe } from "../shapes.ts";
import { t } from "../text.ts";

/** Who has to be looked at, and why. `due` is when somebody is to look again, 0 where there is no clock. */
export interface Look {
  doe: Doe;
  pen: string;
  why: "prompt" | "recheck" | "missing";
  now: boolean;
  text: string;
  due: number;
}

export const herd = (): Doe[] => [...pens(model.view).map(({ id }) => id), ""].flatMap((id) => doesIn(model.view, id));

/** Near kidding and without grain: nothing she leaves would say that she is off her feed. */
export const daily = (): Doe[] => herd().filter((doe) => model.judged.doe(doe.id)?.daily);

export function looks(): Look[] {
  const { missing } = heads(model.view, model.farmId, { on: model.slotDay, slot: model.slot });
  return herd().flatMap((doe) => {
    const look = lookAt(doe, model.judged.doe(doe.id), missing.includes(doe.id));
    return look ? [{ ...look, doe, pen: nameOf(model.view.pens[doe.pen]) }] : [];
  });
}

function lookAt(doe: Doe, result: DoeResult | undefined, missing: boolean): Omit<Look, "doe" | "pen"> | null {
  const { prompt, off_feed } = result ?? {};
  const urgent = prompt && LOOK_NOW.includes(prompt.code);
  if (off_feed) return { why: "recheck", ...clockOf(doe.id, off_feed, Boolean(urgent)) };
  if (urgent) return { why: "prompt", now: true, text: say(prompt).text, due: 0 };
  return missing ? { why: "missing", now: true, text: t("heads.missing"), due: 0 } : null;
}

function clockOf(subject: string, { code, args }: Said, urgent: boolean): Pick<Look, "now" | "text" | "due"> {
  const due = Number(args["recheck_ms"]);
  const said = say({ code, args, rank: 0, subject, in_pen: false });
  return { now: urgent || recheck(due, model.now).over, text: said.text, due };
}
