import { dayOf } from "../base/days.ts";
import type { Due, Outlook } from "../outlook/ground/documents.ts";
import type { Doe, Freeze, Treatment, View } from "../state/view.ts";
import { VET_FED_D, VET_TOLD_D } from "../tables/numbers.ts";
import { aloud_of, type Aloud } from "./vet/aloud.ts";
import { changes_of, type Change } from "./vet/changes.ts";
import { fed_weeks, last_clean_of, type Clean, type Week } from "./vet/fed.ts";
import { happened_of, type Happening } from "./vet/happened.ts";

/**
 * What a vet asks first about one doe, composed from what the farm recorded. No biology of its own: dates and litter
 * are the outlook's where it still fits her, and a doe with nothing but a name has a page.
 */

export interface Carrying {
  from: string;
  to: string;
  how: string;
  /** Days since the last and since the first possible breeding. */
  low_d: number;
  high_d: number;
}

export interface VetPage {
  doe: Doe;
  aloud: Aloud;
  age_months: number | null;
  weight: { g: number; on: string; how: string; age_d: number } | null;
  /** What she was worked as where nobody weighed her; 0 is not known. */
  worked_g: number;
  carrying: Carrying | null;
  due: Due | null;
  /** Kids expected where nobody counted; 0 is not known. */
  litter_x100: number;
  kiddings: number;
  last_clean: Clean | null;
  happened: Happening[];
  changes: Change[];
  weeks: Week[];
  scores: Doe["scores"];
  weights: Doe["weights"];
  treatments: Treatment[];
  freeze: Freeze | null;
}

/** Null only for a doe this phone has never heard of. */
export function vet_page(view: View, id: string, today: string, outlook: Outlook | null = null): VetPage | null {
  const doe = view.does[id];
  if (doe === undefined) return null;
  const to_come = kids_to_come(doe, outlook);
  const late = (on: string) => days(on, today) < VET_FED_D;
  return {
    doe,
    aloud: aloud_of(doe, to_come.due, today),
    age_months: age_of(doe, today),
    weight: weight_of(doe, today),
    worked_g: outlook?.who?.mass_g ?? 0,
    carrying: carrying_of(doe, today),
    ...to_come,
    kiddings: Number(doe.f["kiddings_before"] ?? 0) + doe.kiddings,
    last_clean: last_clean_of(view, doe, today, VET_TOLD_D),
    happened: happened_of(view, doe, today, VET_TOLD_D),
    changes: changes_of(view, doe, today, VET_TOLD_D),
    weeks: fed_weeks(view, doe, today, VET_FED_D),
    scores: doe.scores.filter(([on]) => late(on)),
    weights: doe.weights.filter(([on]) => late(on)),
    treatments: doe.treatments.filter(
      ({ on, milk_until, meat_until }) => late(on) || milk_until >= today || meat_until >= today,
    ),
    freeze: doe.freeze && doe.freeze.until >= today ? doe.freeze : null,
  };
}

/** Only from an outlook of this very service. */
function kids_to_come({ bred }: Doe, outlook: Outlook | null): Pick<VetPage, "due" | "litter_x100"> {
  if (!bred || outlook?.basis.bred !== `${bred.from}/${bred.to}`) return { due: null, litter_x100: 0 };
  const { due, who } = outlook;
  return { due, litter_x100: who && who.litter_from !== "scan" ? who.litter_x100 : 0 };
}

export function days(from: string, to: string): number {
  return dayOf(to) - dayOf(from);
}

function age_of(doe: Doe, today: string): number | null {
  const born = String(doe.f["born_on"] ?? "");
  if (!born || born > today) return null;
  const [year, month, day] = born.split("-").map(Number);
  const [now_year, now_month, now_day] = today.split("-").map(Number);
  return 12 * (now_year! - year!) + now_month! - month! - (now_day! < day! ? 1 : 0);
}

function weight_of(doe: Doe, today: string): VetPage["weight"] {
  const last = doe.weights.at(-1);
  return last ? { on: last[0], g: last[1], how: last[2], age_d: days(last[0], today) } : null;
}

function carrying_of({ bred }: Doe, today: string): Carrying | null {
  if (!bred) return null;
  return { from: bred.from, to: bred.to, how: bred.how, low_d: days(bred.to, today), high_d: days(bred.from, today) };
}
