import type { Doe, RecordRow, View } from "../state/view.ts";

interface Days {
  task: string;
  subject: string;
  key: string;
  from: string;
  to: string;
}
type Told = (doe: Doe, days: Days) => boolean;

const within = (on: string, { from, to }: Days) => on >= from && on <= to;
const scored: Told = ({ scores }, days) => scores.some(([on]) => within(on, days));
const checked: Told = ({ check, bred }) => check !== null && bred !== null && check.on > bred.from;
const in_heat: Told = (doe, days) => checked(doe, days) || doe.heats.some(([on]) => within(on, days));
const tested: Told = ({ checkups }, days) =>
  checkups.some(([on, , , bhb_x10, urine]) => within(on, days) && (bhb_x10 > 0 || urine !== ""));

/** What the log says by an entry of its own is not asked for again. */
const BY_DOE: Record<string, Told> = {
  season_score: scored, buck_score: scored, slim_check: scored, peak: scored, ketone_check: tested,
  blood_test: checked, scan: checked, heat_watch: in_heat, heat_watch_2: in_heat,
  fresh_checks: ({ dam_looks }, days) => dam_looks.some(({ on }) => within(on, days)),
  rebreed: ({ bred }) => bred !== null,
};
const BY_KID: Record<string, (kid: RecordRow) => boolean> = {
  horn_buds: ({ f }) => f["horn"] === "polled" || f["horn"] === "disbudded",
  kid_tag: ({ f }) => Boolean(f["tag"]),
  wean: ({ f }) => Boolean(f["weaned_on"]),
};

const LAST: Record<string, (doe: Doe) => string | undefined> = {
  score_round: ({ scores }) => scores.at(-1)?.[0],
  eyelid_round: ({ checkups }) => checkups.findLast(([, , , , , , , { eyes }]) => eyes > 0)?.[0],
};

/** The day since when most of the herd has been seen to; "" where it was not, or no entry tells. */
export function gone_round(task: string, does: View["does"]): string {
  const last = LAST[task];
  const here = Object.values(does).filter(({ left_on, f }) => !left_on && f["sex"] !== "buck");
  const days = last ? here.map((doe) => last(doe) ?? "").sort() : [];
  return days[Math.floor((days.length - 1) / 2)] ?? "";
}

export function is_told(days: Days, { does, kids }: View): boolean {
  const [doe, kid] = [does[days.subject], kids[days.subject]];
  if (days.task === "buck_in")
    return Object.values(does).some(({ services }) => services.some(({ from }) => from >= days.from));
  return doe ? Boolean(BY_DOE[days.task]?.(doe, days)) : kid ? Boolean(BY_KID[days.task]?.(kid)) : false;
}
