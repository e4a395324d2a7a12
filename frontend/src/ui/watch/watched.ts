import { HOUR_MS, MIN_MS } from "../../core/base/days.ts";
import { chances, type Chances } from "../../core/outlook/kidding/chance.ts";
import { next_look } from "../../core/outlook/ill/next_look.ts";
import { day } from "../model/day.svelte.ts";
import { FIRST_LIGHT_H } from "../model/hours.ts";
import { herdOf, nameOf } from "../model/herd.ts";
import { record, together } from "../model/record.ts";
import { session } from "../model/session.svelte.ts";
import type { DoeResult } from "../model/results.ts";
import type { Doe } from "../model/shapes.ts";
import { BESIDE_WATCH, watchWords } from "../sentences/resting.ts";
import { has, in_a_row, t } from "../words/text.ts";

/** Does near kidding, or with signs of it, and what of a look is tapped at night. */
export interface Watched {
  doe: Doe;
  result: DoeResult;
  text: string;
  last: Doe["signs"][number] | undefined;
  /** When the next look falls due; 0 where nobody has looked within a day. */
  due: number;
  /** 0 in labour, 1 and 2 with signs, 3 with none. */
  near: number;
  /** Her usual date. */
  on: string;
}

/** The last look at her while she carries these kids. */
const lookOf = ({ signs, bred }: Doe) =>
  signs.findLast(([at, , , , , on]) => at < day.now + MIN_MS && on >= (bred?.from ?? ""));

/** What was found at a look. */
export function foundAt([, seen, absent]: Doe["signs"][number]): string {
  const named = (sign: string) => (has(`near.${sign}`) ? t(`near.${sign}`) : t(`sign.${sign}`).toLowerCase());
  if (seen.length) return in_a_row(seen.map(named));
  return absent.length ? t("watch.found.none") : t("watch.found.same");
}

/** Nearest first: in labour or for the vet, by signs, then by dates; of equal ones whose look falls due sooner. */
export function watched(): Watched[] {
  const all = herdOf(day.view).flatMap((doe): Watched[] => {
    const result = day.judged.doe(doe.id);
    const said = result && doe.bred ? watchWords(result, doe) : null;
    if (!said || !result) return [];
    const told = next_look(doe.signs, day.now).signs;
    const called = result.labour || BESIDE_WATCH.includes(result.prompt?.code ?? "");
    const near = called ? 0 : result.prompt?.code === "kidding_early" ? 1 : NEARNESS[told];
    const last = lookOf(doe);
    return [{ doe, result, text: said.text, due: said.due, last, near, on: result.due?.mid ?? doe.bred?.from ?? "" }];
  });
  return all.sort((a, b) => a.near - b.near || compare(a.on, b.on) || a.due - b.due);
}

const NEARNESS = { close: 1, signs: 2, quiet: 3 };
const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);

/** A look is not made once it is over by so much. */
const GRACE_MS = 15 * 60_000;
export const isMissed = ({ due, result }: Watched): boolean => due > 0 && !result.labour && day.now - due > GRACE_MS;
/** Hours since anybody looked, once that is long. */
const LONG_H = 12;
export function unlooked(one: Watched): number {
  const hours = one.last && isMissed(one) ? Math.floor((day.now - one.last[0]) / HOUR_MS) : 0;
  return hours >= LONG_H ? hours : 0;
}
export const isDue = ({ due }: Watched): boolean => due <= day.now;

/** With signs, or with something to be done about her now. */
export const isOpen = (one: Watched): boolean => one.near < NEARNESS.quiet || isMissed(one);

/** What is tapped at once; her ligaments are written down by whoever felt them. */
export const TAPPED = ["ligaments_gone", "teats_strutted", "mucus_amber", "pawing"];

/** Whether a sign stands as it was last told. */
export function isThere({ signs }: Doe, sign: string): boolean {
  return lastOf(signs, sign)?.[1].includes(sign) ?? false;
}

export const isGone = ({ signs }: Doe, sign: string): boolean => lastOf(signs, sign)?.[2].includes(sign) ?? false;

const lastOf = (signs: Doe["signs"], sign: string) =>
  signs.findLast(([, seen, absent]) => seen.includes(sign) || absent.includes(sign));

/** Again at a later look means that it is still so: what is gone is said with all the other signs. */
export function tapSign(doe: Doe, sign: string): void {
  write(doe, [sign], [], t("watch.said", { name: nameOf(doe), what: t(`watch.${sign}`) }));
}

export const stillFelt = (doe: Doe): void =>
  write(doe, [], ["ligaments_gone"], t("watch.said", { name: nameOf(doe), what: t("watch.felt") }));

/** What goes by clocks and cases of its own is not said again by a look that found nothing new. */
const NOT_AGAIN = ["straining", "water_bag", "kid_out", "prolapse", "off_feed", "temp_drop"];

/** Looked, and it is as it was: what stands is seen again, and what nobody looked for is not "not seen". */
export function nothingNew(doe: Doe): void {
  const { there } = next_look(doe.signs, day.now);
  const seen = there.filter((sign) => !NOT_AGAIN.includes(sign));
  write(doe, seen, [], t("watch.said", { name: nameOf(doe), what: t("watch.same") }));
}

function write(doe: Doe, seen: string[], absent: string[], said: string): void {
  together(said, () => record("signs", doe.id, { seen, absent }));
}

/** In labour, or so early that it would be a loss, no chance of a kidding is worked out. */
export const isLikely = ({ labour, prompt }: DoeResult): boolean => !labour && prompt?.code !== "kidding_early";

/** How likely she kids in the hours ahead; null where nothing can be said. */
export function likely(doe: Doe, { due }: DoeResult): Chances | null {
  const { today, minute, now, signs } = day;
  return due && signs ? chances(doe, due, signs, { day: today, minute, ms: now }) : null;
}

/** Whoever is on the farm and writes things down. */
export const people = () => session.farm?.people.filter(({ gone, role }) => !gone && role !== "adviser") ?? [];

/** Who was put down for a night that is not over: it is at the noon that follows. */
export const onTonight = () => {
  const last = lastOn();
  return last && last.happened >= nightFrom() ? last : undefined;
};
/** Who was put down last, for whatever night. */
export const lastOn = () => day.view.hand_overs.at(-1);

const [NOON_MIN, DAY_MIN] = [720, 1440];
/** From first light on the night to come is spoken of, and until noon the one before is still told. */
function nightFrom(): number {
  const since_first_light = day.minute - FIRST_LIGHT_H * 60 + (day.minute < NOON_MIN ? DAY_MIN : 0);
  return day.now - since_first_light * MIN_MS;
}

export function handOver(to: string, word: string): void {
  const said = to ? t("watch.on", { who: session.who(to) }) : word;
  together(said, () => record("hand_over", session.farmId, { to, word }));
}
