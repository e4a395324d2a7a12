import { chances, type Chances } from "../../core/outlook/kidding/chance.ts";
import { day } from "../model/day.svelte.ts";
import { herdOf, nameOf } from "../model/herd.ts";
import { record, together } from "../model/record.ts";
import { session } from "../model/session.svelte.ts";
import type { DoeResult } from "../model/results.ts";
import type { Doe } from "../model/shapes.ts";
import { watchWords } from "../sentences/resting.ts";
import { LOOK_NOW, promptOf } from "../sentences/prompt.ts";
import { t } from "../words/text.ts";

/** Does near kidding, or with signs of it, and what of a look is tapped at night. */
export interface Watched {
  doe: Doe;
  result: DoeResult;
  text: string;
  last: Doe["signs"][number] | undefined;
  /** When the next look falls due; 0 where nobody has looked within a day. */
  due: number;
}

/** Whom the vet is called about, then in the order their next look falls due; nobody has looked: first of those. */
export function watched(): Watched[] {
  const all = herdOf(day.view).flatMap((doe): Watched[] => {
    const result = day.judged.doe(doe.id);
    const said = result && doe.bred ? watchWords(result, doe) : null;
    if (!said || !result) return [];
    return [{ doe, result, text: said.text, due: said.due, last: doe.signs.findLast(([at]) => at <= day.now) }];
  });
  const calls = ({ result }: Watched) => (LOOK_NOW.includes(promptOf(result)?.code ?? "") ? 0 : 1);
  return all.sort((a, b) => calls(a) - calls(b) || a.due - b.due);
}

/** A look is not made once it is over by so much. */
const GRACE_MS = 15 * 60_000;
export const isMissed = ({ due, result }: Watched): boolean => due > 0 && !result.labour && day.now - due > GRACE_MS;
export const isDue = ({ due }: Watched): boolean => due <= day.now;

/** What is seen without a hand on her; her ligaments are written down by whoever felt them. */
const LOOKED_FOR = ["teats_strutted", "mucus_amber", "pawing"];
export const TAPPED = ["ligaments_gone", ...LOOKED_FOR];

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

/** Looked, and it is as it was: what stands is seen again, and the rest looked for and not seen. */
export function nothingNew(doe: Doe): void {
  const seen = LOOKED_FOR.filter((sign) => isThere(doe, sign));
  const absent = LOOKED_FOR.filter((sign) => !seen.includes(sign));
  write(doe, seen, absent, t("watch.said", { name: nameOf(doe), what: t("watch.same") }));
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

/** Who was last put down for a night, within a day. */
export const onTonight = () =>
  day.view.hand_overs.findLast(({ happened }) => day.now - happened < DAY_MS);
const DAY_MS = 86_400_000;

export function handOver(to: string, word: string): void {
  const said = to ? t("watch.on", { who: session.who(to) }) : word;
  together(said, () => record("hand_over", session.farmId, { to, word }));
}
