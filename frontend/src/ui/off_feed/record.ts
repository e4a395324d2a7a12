import { held_until } from "../../core/barn/chores.ts";
import { checkup_2, triage_2 } from "../../core/events/upcast.ts";
import { is_forage, is_grain } from "../../core/outlook/ground/feed_classes.ts";
import { stage_of } from "../../core/outlook/ill/off_feed_stage.ts";
import type { OffFeed } from "../../core/outlook/ground/shapes.ts";
import { fedIn, nameOf, planned } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { record, together } from "../model/record.ts";
import { session } from "../model/session.svelte.ts";
import { didOf } from "../sentences/meals.ts";
import type { Data, Doe, Intake, Slot } from "../model/shapes.ts";
import { t } from "../words/text.ts";

/** What is tapped about a doe at a meal. Holding her grain is part of the same tap. */
export function exception(doe: Doe, how: string, feed = "", left_pct = 0): void {
  together(`${nameOf(doe)}: ${didOf({ how, left_pm: 10 * left_pct })}`, () => tell(doe, how, feed, left_pct));
}

/** The same in her row of the list: her own box stands before the list is gone through. */
export function tapped(doe: Doe, how: string): void {
  together(`${nameOf(doe)}: ${didOf({ how, left_pm: 0 })}`, () => tell(doe, how, "", 0), () => day.showSaid());
}

function tell(doe: Doe, how: string, feed: string, left_pct: number): void {
  const open = day.judged.doe(doe.id)?.off_feed;
  const { id } = record("intake", doe.id, { how, left_pct, feed, fed: lastFed(doe) });
  // Whoever taps it here has the case before her eyes; "all up and eating" may come from a phone that has not heard of
  // it.
  if (how === "ate_all" && open) record("triage", doe.id, { ...BLANK, of: open.args.ev, result: "eating" });
  const until = held_until(how, stageOf(doe.id), day.slotDay);
  if (until) hold(doe, until, outStill(doe), id);
}

/** Signs of kidding; "off her feed" among them is a left meal as well, and true when it was there. */
export function signs(doe: Doe, seen: string[], absent: string[], more?: () => unknown): boolean {
  const off = seen.includes("off_feed");
  const said = `${nameOf(doe)}: ${off ? t("sign.off_feed") : t("rec.signs")}`;
  together(said, () => {
    record("signs", doe.id, { seen, absent });
    if (off) tell(doe, "left_some", "", 0);
    more?.();
  });
  return off;
}

/** How much of it she left, said after the first tap. */
export function leftShare({ ev, subject, feed }: Intake, left_pct: number): void {
  const data = { how: "left_some", left_pct, feed, fed: "" };
  session.atOnce(() => record("correct", subject, { of: ev, data }), () => day.showSaid());
}

export function upAndEating(does: Doe[]): void {
  const data = { how: "ate_all", left_pct: 0, feed: "", fed: "" };
  together(t("daily.tapped", { n: does.length }), () => does.forEach(({ id }) => record("intake", id, data)));
}

const BLANK = triage_2({ of: "", new_feed: "", water_bad: "", bullied: "", suspect: "", result: "" });
type Looked = "new_feed" | "water_bad" | "bullied" | "result" | "passes" | "strains";

/** What somebody found, or an answer to one of the questions. */
export function look(doe: Doe, of: string, key: Looked, value: string): void {
  const said = SAID[key]?.(value) ?? `${t(`off.ask.${key}`)} ${t(value)}`;
  together(`${nameOf(doe)}: ${said}`, () => record("triage", doe.id, { ...BLANK, of, [key]: value }));
}

const SAID: Partial<Record<Looked, (value: string) => string>> = {
  result: (value) => t(`off.result.${value}`),
  passes: (value) => t(`off.passes.${value}`),
  strains: (value) => `${t("off.strains")} ${t(value)}`,
};

/**
 * Grain or hay, of the last meal. Where one feed alone can be meant the meal itself is put right, so that the sums know
 * what she ate.
 */
export function leftWhat(doe: Doe, { args }: OffFeed, what: string): void {
  together(`${nameOf(doe)}: ${t(`off.left.${what}`)}`, () => {
    record("triage", doe.id, { ...BLANK, of: args.ev, left: what });
    const seen = day.view.intakes.find(({ ev, feed }) => ev === args.ev && feed === "");
    const feed = what === "both" ? "" : onlyFeed(doe, what, args.slot);
    if (!seen || !feed || !["left_some", "refused"].includes(seen.how)) return;
    record("correct", doe.id, { of: seen.ev, data: { how: seen.how, left_pct: seen.left_pm / 10, feed, fed: "" } });
  });
}

/** Her one feed of that sort at that meal, her own or the pen's; "" where there are several or none. */
function onlyFeed({ id, pen }: Doe, what: string, slot: string): string {
  const meant = what === "grain" ? is_grain : is_forage;
  const lines = planned(day.plan, pen, slot as Slot).filter(([to]) => to === "" || to === id);
  const feeds = new Set(lines.map(([, feed]) => feed).filter((feed) => meant(day.plan.feed(feed))));
  return feeds.size === 1 ? [...feeds][0]! : "";
}

/** Gas or too much grain: none for her until somebody says otherwise. */
export function suspect(doe: Doe, of: string, what: string): void {
  together(`${nameOf(doe)}: ${t(`off.suspect.${what}`)}`, () => stopGrain(doe, of, what));
}

function stopGrain(doe: Doe, of: string, what: string): void {
  record("triage", doe.id, { ...BLANK, of, suspect: what });
  hold(doe, held_until("refused", "", day.slotDay), true, of);
}

/** What was found on her. A tight left side is bloat until somebody says otherwise. */
export function found(doe: Doe, of: string, seen: Data, then = (_ev: string): unknown => null): void {
  together(`${nameOf(doe)}: ${t("off.checks")}`, () => {
    then(record("checkup", doe.id, checkup_2({ temp_c_x10: 0, bhb_x10: 0, urine: "", ...seen })).id);
    if (seen["belly"] === "tight") stopGrain(doe, of, "bloat");
  });
}

export function lift(doe: Doe): void {
  record("freeze", doe.id, { until_on: "", grain_out: false, of: "" });
}

function hold(doe: Doe, until: string, grain_out: boolean, of: string): void {
  const longer = doe.freeze && doe.freeze.until > until ? doe.freeze.until : until;
  record("freeze", doe.id, { until_on: longer, grain_out, of });
}

const outStill = ({ freeze }: Doe) => Boolean(freeze?.grain_out && freeze.until >= day.slotDay);
const lastFed = ({ pen }: Doe) => fedIn(day.view, pen, day.slotDay, day.slot).at(-1)?.ev ?? "";
const stageOf = (id: string) => stage_of(session.farm!.context(day.today), id);
