import { held_until } from "../../core/chores.ts";
import { stage_of } from "../../core/outlook/off_feed_stage.ts";
import { fedIn, nameOf } from "../herd.ts";
import { model } from "../model.svelte.ts";
import { didOf } from "../records.ts";
import type { Doe, Intake } from "../shapes.ts";
import { t } from "../text.ts";

/** What is tapped about a doe that did not clean up. Holding her grain is part of the same tap. */
export function exception(doe: Doe, how: string, feed = "", left_pct = 0): void {
  model.together(`${nameOf(doe)}: ${didOf({ how, left_pm: 10 * left_pct })}`, () => {
    const { id } = model.record("intake", doe.id, { how, left_pct, feed, fed: lastFed(doe) });
    const until = held_until(how, stageOf(doe.id), model.slotDay);
    if (until) hold(doe, until, outStill(doe), id);
  });
}

/** How much of it she left, said after the first tap. */
export function leftShare({ ev, subject, feed }: Intake, left_pct: number): void {
  model.record("correct", subject, { of: ev, data: { how: "left_some", left_pct, feed, fed: "" } });
}

export function upAndEating(does: Doe[]): void {
  const data = { how: "ate_all", left_pct: 0, feed: "", fed: "" };
  model.together(t("daily.tapped", { n: does.length }), () => does.forEach(({ id }) => model.record("intake", id, data)));
}

const BLANK = { of: "", new_feed: "", water_bad: "", bullied: "", suspect: "", result: "" };

/** What somebody found, or an answer to one of the three questions. */
export function look(doe: Doe, of: string, key: keyof typeof BLANK, value: string): void {
  const said = key === "result" ? t(`off.result.${value}`) : `${t(`off.ask.${key}`)} ${t(value)}`;
  model.together(`${nameOf(doe)}: ${said}`, () => model.record("triage", doe.id, { ...BLANK, of, [key]: value }));
}

/** Gas or too much grain: none for her until somebody says otherwise. */
export function suspect(doe: Doe, of: string, what: string): void {
  model.together(`${nameOf(doe)}: ${t(`off.suspect.${what}`)}`, () => {
    model.record("triage", doe.id, { ...BLANK, of, suspect: what });
    hold(doe, held_until("refused", "", model.slotDay), true, of);
  });
}

export function lift(doe: Doe): void {
  model.record("freeze", doe.id, { until_on: "", grain_out: false, of: "" });
}

function hold(doe: Doe, until: string, grain_out: boolean, of: string): void {
  const longer = doe.freeze && doe.freeze.until > until ? doe.freeze.until : until;
  model.record("freeze", doe.id, { until_on: longer, grain_out, of });
}

const outStill = ({ freeze }: Doe) => Boolean(freeze?.grain_out && freeze.until >= model.slotDay);
const lastFed = ({ pen }: Doe) => fedIn(model.view, pen, model.slotDay, model.slot).at(-1)?.ev ?? "";
const stageOf = (id: string) => stage_of(model.farm!.context(model.today), id);
