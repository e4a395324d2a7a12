import { SvelteSet } from "svelte/reactivity";
import { udder_due } from "../../core/barn/questions.ts";
import { heads, recheck } from "../../core/barn/chores.ts";
import { last_out_ms } from "../../core/outlook/kidding/kidding.ts";
import { NIGHT_H, PUSHING_MOST_MIN } from "../../core/tables/numbers.ts";
import { away } from "../words/format.ts";
import { doesIn, nameOf, pens } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import { firstDays, in_time, LOOK_NOW, promptOf, say } from "../sentences/prompt.ts";
import { BESIDE_WATCH, watchOf } from "../sentences/resting.ts";
import type { Said } from "../../core/outlook/ground/shapes.ts";
import type { DoeResult, Prompt } from "../model/results.ts";
import type { Doe } from "../model/shapes.ts";
import { to } from "../shell/router.svelte.ts";
import { t } from "../words/text.ts";

/** Who has to be looked at, and why. `due` is when somebody is to look again, 0 where there is no clock. */
export interface Look {
  doe: Doe;
  pen: string;
  why: "prompt" | "recheck" | "missing" | "watch" | "kids" | "night" | "udder";
  now: boolean;
  text: string;
  due: number;
  /** The vet first, then by how serious it is. */
  rank: number;
}

const PAGES: Partial<Record<Look["why"], string>> = { recheck: "off", kids: "kids", night: "night" };
/** Where what is found is written down. */
export const pageOf = ({ doe, why }: Look): string =>
  why === "watch" ? to("watch", doe.id) : to("doe", doe.id, ...[PAGES[why] ?? []].flat());

type Found = Omit<Look, "doe" | "pen">;

const [MISSING, CALM] = [3, 4];
const [MIN_MS, HOUR_MIN] = [60_000, 60];

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

function lookAt(doe: Doe, result: DoeResult | undefined, missing: boolean): Found | null {
  const found = foundOf(doe, result, missing);
  const waits = result?.labour ? null : sinceKid(doe);
  if (!waits || !found) return waits ?? found;
  // what waits for her last kid has no clock of its own: that of a cold one goes on under it
  const both = { ...waits, due: found.due };
  return found.now && found.rank < CALM ? { ...both, text: `${waits.text} ${found.text}` } : both;
}

function foundOf(doe: Doe, result: DoeResult | undefined, missing: boolean): Found | null {
  const off_feed = result?.off_feed ? in_time(result.off_feed) : null;
  const prompt = promptOf(result);
  const urgent = prompt && LOOK_NOW.includes(prompt.code) ? prompt : null;
  const rank = rankOf(urgent);
  if (off_feed)
    return {
      why: "recheck", rank,
      ...clockOf(urgent ?? { ...off_feed, rank, subject: doe.id, in_pen: false }, off_feed, urgent !== null),
    };
  const [kids] = firstDays(result);
  if (kids && (urgent?.code ?? kids.code) === kids.code)
    return { why: "kids", rank, ...clockOf(kids, kids, urgent !== null) };
  if (urgent) return { why: "prompt", now: true, rank, ...withClock(urgent, kids, result, doe) };
  return lookedAgain(prompt) ?? watched(doe, result) ?? calm(doe, missing);
}

/** Half an hour since the last kid, and nobody has written that all are out: the gravest there may be of a night. */
function sinceKid(doe: Doe): Found | null {
  const since_ms = last_out_ms(doe, day.now);
  const n = Math.floor((day.now - since_ms) / MIN_MS);
  if (!since_ms || n < PUSHING_MOST_MIN || n >= NIGHT_H * HOUR_MIN) return null;
  return { why: "night", now: true, rank: 0, due: 0, text: t("chores.since_kid", { n: away(n) }) };
}

/** What stands for days hides no clock: the looks at her and at her kids go on beside it. */
function withClock(urgent: Prompt, kids: Prompt | undefined, result: DoeResult | undefined, doe: Doe) {
  const { text } = say(urgent);
  if (!BESIDE_WATCH.includes(urgent.code)) return { text, due: 0 };
  if (kids) return { text: `${text} ${say(kids).text}`, due: Number(kids.args["recheck_ms"] ?? 0) };
  return { text, due: (result && watchOf(result, doe)?.due) ?? 0 };
}

/** What is no emergency and has a clock: when she is to be looked at again. */
function lookedAgain(prompt: Prompt | null): Found | null {
  const again = prompt && clockOf(prompt, prompt, false);
  return again?.due ? { why: "prompt", rank: CALM, ...again } : null;
}

/** Of whom "all well" cannot be said with the others: a call stands for her, or she was last seen not to be well. */
export function singly(doe: Doe): boolean {
  const look = doe.dam_looks.at(-1);
  const poor = look && (look.bright === "no" || look.drank === "no" || look.ate === "no");
  const grave = looking.all.some((one) => one.doe.id === doe.id && one.now && one.rank < CALM);
  return grave || Boolean(poor) || Boolean(day.judged.doe(doe.id)?.off_feed);
}

const notThere = (): Found => ({ why: "missing", now: true, text: t("heads.missing"), due: 0, rank: MISSING });

function watched(doe: Doe, result: DoeResult | undefined): Found | null {
  const watch = result ? watchOf(result, doe) : null;
  return watch && { why: "watch", rank: CALM, now: recheck(watch.due, day.now).over, ...watch };
}

const calm = (doe: Doe, missing: boolean): Found | null => (missing ? notThere() : udderToFeel(doe));

/** Dried off lately: what goes wrong in her udder then is felt before it is seen. */
const udderToFeel = (doe: Doe): Found | null =>
  udder_due(doe, day.today) > 0 ? { why: "udder", now: false, text: t("dry.feel.row"), due: 0, rank: CALM } : null;

const rankOf = (urgent: Prompt | null) => (!urgent ? CALM : urgent.code.endsWith("_vet") ? 0 : urgent.rank);

/** A reading that cannot wait is said before what she left; the clock is that of the case. */
function clockOf(prompt: Prompt, { args }: Said, urgent: boolean): Pick<Look, "now" | "text" | "due"> {
  const due = Number(args["recheck_ms"] ?? 0);
  return { now: urgent || (due > 0 && recheck(due, day.now).over), text: say(prompt).text, due };
}

/** Fed pens somebody opened again, by pen and meal: they stay so on the way to a doe and back. */
export const opened = new SvelteSet<string>();
