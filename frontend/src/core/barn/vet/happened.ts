import { addDays } from "../../base/days.ts";
import type { Data } from "../../events/events.ts";
import type { Kind } from "../../events/kinds.ts";
import type { Doe, Intake, View } from "../../state/view.ts";

/** One thing that happened, in the form in which it was recorded. */
export interface Happening {
  kind: Kind;
  on: string;
  /** 0: only the day is known. */
  at: number;
  slot: string;
  author: string;
  data: Data;
}

/** Newest first. Of meals only what went wrong, and the first that went right again. */
export function happened_of(view: View, doe: Doe, today: string, back_d: number): Happening[] {
  const since = addDays(today, 1 - back_d);
  const all = [...meals(view, doe), ...looked(doe), ...notes(view, doe), ...turns(doe)];
  return all
    .filter(({ on }) => on >= since && on <= today)
    .sort((a, b) => (a.on < b.on ? 1 : a.on > b.on ? -1 : b.at - a.at));
}

function meals(view: View, doe: Doe): Happening[] {
  const hers = view.intakes.filter(({ subject }) => subject === doe.id).sort((a, b) => a.happened - b.happened);
  const wrong = (intake: Intake | undefined) => intake !== undefined && intake.how !== "ate_all";
  return hers.filter((intake, i) => wrong(intake) || wrong(hers[i - 1])).map((intake) => ({
    kind: "intake", on: intake.on, at: intake.happened, slot: intake.slot, author: intake.author,
    data: { how: intake.how, left_pct: intake.left_pm / 10, feed: intake.feed },
  }));
}

function looked(doe: Doe): Happening[] {
  const row = (kind: Kind, on: string, at: number, author: string, data: Data): Happening => ({
    kind, on, at, slot: "", author, data,
  });
  return [
    ...doe.checkups.map(([on, at, temp_c_x10, bhb_x10, urine, author, , seen]) =>
      row("checkup", on, at, author, { temp_c_x10, bhb_x10, urine, ...seen }),
    ),
    ...doe.signs.map(([at, seen, absent, author, , on]) => row("signs", on, at, author, { seen, absent })),
    ...doe.triages.map(({ on, happened, author, ...data }) => row("triage", on, happened, author, data)),
    ...doe.kid_looks.map(({ on, happened, author, ...data }) => row("kid_look", on, happened, author, data)),
    ...doe.afterbirths.map(([on, at, seen, author]) => row("afterbirth", on, at, author, { seen })),
    ...doe.dam_looks.map(({ on, happened, author, ...data }) => row("dam_look", on, happened, author, data)),
    ...doe.udder.map(([on, fill, uneven, author]) => row("udder", on, 0, author, { fill, uneven })),
  ];
}

function notes(view: View, doe: Doe): Happening[] {
  return view.notes.filter(({ subject }) => subject === doe.id).map(({ on, happened, author, text }) => ({
    kind: "note", on, at: happened, slot: "", author, data: { text },
  }));
}

function turns({ kidded, dried_on, check }: Doe): Happening[] {
  const row = (kind: Kind, on: string, data: Data): Happening => ({ kind, on, at: 0, slot: "", author: "", data });
  return [
    ...(kidded ? [row("kidded", kidded.on, { born: kidded.born, alive: kidded.alive })] : []),
    ...(dried_on ? [row("dried_off", dried_on, {})] : []),
    ...(check ? [row("preg_check", check.on, { result: check.result, kids: check.kids })] : []),
  ];
}
