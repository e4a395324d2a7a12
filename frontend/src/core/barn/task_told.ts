import type { Doe, RecordRow, View } from "../state/view.ts";

interface Days {
  task: string;
  subject: string;
  key: string;
  from: string;
  to: string;
}
type Told = (doe: Doe, days: Days) => boolean;

const scored: Told = ({ scores }, { from, to }) => scores.some(([on]) => on >= from && on <= to);
const checked: Told = ({ check, bred }) => check !== null && bred !== null && check.on > bred.from;

/** What the log says by an entry of its own is not asked for again. */
const BY_DOE: Record<string, Told> = {
  season_score: scored, buck_score: scored, slim_check: scored, peak: scored,
  blood_test: checked, scan: checked, heat_watch: checked,
  fresh_checks: ({ dam_looks }, { from, to }) => dam_looks.some(({ on }) => on >= from && on <= to),
  rebreed: ({ bred }) => bred !== null,
};
const BY_KID: Record<string, (kid: RecordRow) => boolean> = {
  horn_buds: ({ f }) => f["horn"] === "polled" || f["horn"] === "disbudded",
  kid_tag: ({ f }) => Boolean(f["tag"]),
  wean: ({ f }) => Boolean(f["weaned_on"]),
};

export function is_told(days: Days, { does, kids }: View): boolean {
  const [doe, kid] = [does[days.subject], kids[days.subject]];
  if (days.task === "buck_in")
    return Object.values(does).some(({ services }) => services.some(({ from }) => from >= days.from));
  return doe ? Boolean(BY_DOE[days.task]?.(doe, days)) : kid ? Boolean(BY_KID[days.task]?.(kid)) : false;
}
