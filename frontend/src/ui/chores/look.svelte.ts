import { heads, recheck } from "../../core/barn/chores.ts";
import { doesIn, nameOf, pens } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import { in_time, LOOK_NOW, say } from "../sentences/prompt.ts";
import { watchOf } from "../sentences/resting.ts";
import type { Said } from "../../core/outlook/shapes.ts";
import type { DoeResult, Prompt } from "../model/results.ts";
import type { Doe } from "../model/shapes.ts";
import { t } from "../words/text.ts";

/** Who has to be looked at, and why. `due` is when somebody is to look again, 0 where there is no clock. */
export interface Look {
  doe: Doe;
  pen: string;
  why: "prompt" | "recheck" | "missing" | "watch";
  now: boolean;
  text: string;
  due: number;
  /** The vet first, then by how serious it is. */
  rank: number;
}

const [MISSING, CALM] = [3, 4];

export const herd = (): Doe[] => [...pens(day.view).map(({ id }) => id), ""].flatMap((id) => doesIn(day.view, id));

/** Near kidding and without grain: nothing she leaves would say that she is off her feed. */
export const daily = (): Doe[] => herd().filter((doe) => day.judged.doe(doe.id)?.daily);

/** Worked out once for all who show it. */
export const looking = new (class {
  readonly all = $derived(looks());
})();

/** The gravest first; of equal ones as the pens are walked. */
function looks(): Look[] {
  const { missing } = heads(day.view, session.farmId, { on: day.slotDay, slot: day.slot });
  const all = herd().flatMap((doe) => {
    const look = lookAt(doe, day.judged.doe(doe.id), missing.includes(doe.id));
    return look ? [{ ...look, doe, pen: nameOf(day.view.pens[doe.pen]) }] : [];
  });
  return all.sort((a, b) => a.rank - b.rank);
}

function lookAt(doe: Doe, result: DoeResult | undefined, missing: boolean): Omit<Look, "doe" | "pen"> | null {
  const off_feed = result?.off_feed ? in_time(result.off_feed) : null;
  const prompt = result?.prompt ? in_time(result.prompt) : null;
  const urgent = prompt && LOOK_NOW.includes(prompt.code) ? prompt : null;
  const rank = !urgent ? CALM : urgent.code.endsWith("_vet") ? 0 : urgent.rank;
  if (off_feed)
    return {
      why: "recheck", rank,
      ...clockOf(urgent ?? { ...off_feed, rank, subject: doe.id, in_pen: false }, off_feed, urgent !== null),
    };
  if (urgent) return { why: "prompt", now: true, text: say(urgent).text, due: 0, rank };
  const watch = result ? watchOf(result, doe) : null;
  if (watch) return { why: "watch", rank: CALM, now: recheck(watch.due, day.now).over, ...watch };
  return missing ? { why: "missing", now: true, text: t("heads.missing"), due: 0, rank: MISSING } : null;
}

/** A reading that cannot wait is said before what she left; the clock is that of the case. */
function clockOf(prompt: Prompt, { args }: Said, urgent: boolean): Pick<Look, "now" | "text" | "due"> {
  const due = Number(args["recheck_ms"]);
  return { now: urgent || recheck(due, day.now).over, text: say(prompt).text, due };
}
