import { place_key } from "../../core/state/planned.ts";
import { FIRST_FEEDS } from "../../core/tables/codes.ts";
import { write, writeRecord } from "../forms/write.ts";
import { doesIn } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import type { Data } from "../model/shapes.ts";
import { ruleOf } from "../sentences/amounts.ts";
import { begun } from "../start/begun.svelte.ts";
import { addDays } from "../words/format.ts";

export interface Feeder {
  /** What goes in at one feeding, for as many does as eat from it. */
  g: number;
  does: number;
  slots: string[];
  /** They have had it for days: those days are on record, by the keeper's word. */
  week: boolean;
}

/** Of the feeder of this pen, as it was answered. */
export function feederOf(pen: string): Feeder | null {
  const said = begun.said(`feeder.${pen}`);
  return said ? (JSON.parse(said) as Feeder) : null;
}

export const keepFeeder = (pen: string, feeder: Feeder) => begun.put({ [`feeder.${pen}`]: JSON.stringify(feeder) });

type Of = keyof typeof FIRST_FEEDS;

/** What this word for a hay or a grain is taken for; a feed of the book stands for itself. */
export function takenFor(of: Of, word: string): readonly [feed: string, cls: string] {
  const table = FIRST_FEEDS[of] as Record<string, readonly [string, string]>;
  return table[word] ?? [word, day.feeds[word]?.class ?? (of === "hay" ? "grass" : "grain")];
}

/** A stack of hay by its word; the one chosen before is another one now. */
export function enterHay(word: string, name: string): void {
  const held = day.view.lots[begun.said("hay")];
  const id = held?.id ?? session.farm!.newId();
  const [feed] = takenFor("hay", word);
  const opened: Data = held ? {} : { opened_on: day.today, flake_g: 0 };
  writeRecord("lot", id, { name, feed, ...opened }, held, { quiet: true });
  begun.put({ hay: id, hay_word: word });
}

export function enterGrain(word: string, name: string): void {
  const held = day.view.feeds[begun.said("grain")];
  const id = held?.id ?? session.farm!.newId();
  const [like, cls] = takenFor("grain", word);
  writeRecord("feed", id, { name, class: cls, like }, held, { quiet: true });
  begun.put({ grain: id, grain_word: word });
}

const shared = ({ g, does }: Feeder, count: number) => Math.round((g * Math.min(count, does)) / does);
const WEEK_D = 7;

/** From when on a doe gets what she is said to get. */
export function since(pen: string): string {
  return feederOf(pen)?.week ? addDays(day.today, -WEEK_D) : day.today;
}

function plan(to: "doe" | "pen", subject: string, feed: string, g: number, at: Pick<Feeder, "slots"> & { on: string }) {
  for (const slot of at.slots) {
    const base = day.view.rations[place_key(subject, slot, feed)]?.hlc ?? "";
    const steps = [{ on: at.on, g }];
    write("ration", subject, { to, slot, feed, base, reason: "", wish: "", steps }, { quiet: true });
  }
}

/**
 * One doe more at this feeder: as much hay for her as for each other, and what is put in her bowl. The days she has had
 * it are added to what was fed on them.
 */
export function feedHer(doe: string, pen: string, grain_g: number): void {
  const [hay, grain] = [begun.said("hay"), begun.said("grain")];
  const feeder = feederOf(pen);
  const slots = feeder?.slots ?? ["morning", "evening"];
  const at = { slots, on: since(pen) };
  const before = doesIn(day.view, pen).length;
  const hay_g = feeder && hay ? shared(feeder, before + 1) : 0;
  if (hay_g) plan("pen", pen, hay, hay_g, at);
  if (grain && grain_g) plan("doe", doe, grain, grain_g, at);
  if (!feeder?.week) return;
  const lines = [
    { to: "", feed: hay, g: hay_g - shared(feeder, before) }, { to: doe, feed: grain, g: grain_g },
  ].filter(({ feed, g }) => feed && g > 0);
  if (lines.length) fedSince(pen, slots, lines, before > 0);
}

function fedSince(pen: string, slots: string[], lines: { to: string; feed: string; g: number }[], adds: boolean) {
  for (let back = ruleOf("confirmed_days"); back > 0; back--) {
    for (const slot of slots) {
      write("fed", pen, { lines, adds }, { on: addDays(day.today, -back), slot: slot as never, quiet: true });
    }
  }
}

/** What goes in is known after the does are: it is theirs from now on, or for as long as they have had it. */
export function feedThose(pen: string, anew: boolean): void {
  const [hay, here] = [begun.said("hay"), doesIn(day.view, pen).length];
  const feeder = feederOf(pen);
  const g = feeder && hay && here ? shared(feeder, here) : 0;
  if (!feeder || !g) return;
  plan("pen", pen, hay, g, { slots: feeder.slots, on: since(pen) });
  if (anew && feeder.week) fedSince(pen, feeder.slots, [{ to: "", feed: hay, g }], true);
}

/** Fewer eat here than was said: all of the hay is theirs. */
export function allAreIn(pen: string): void {
  const feeder = feederOf(pen);
  const hay = begun.said("hay");
  const here = doesIn(day.view, pen).length;
  if (!feeder || !hay || here >= feeder.does) return;
  const more = feeder.g - shared(feeder, here);
  plan("pen", pen, hay, feeder.g, { slots: feeder.slots, on: since(pen) });
  if (feeder.week && more > 0) fedSince(pen, feeder.slots, [{ to: "", feed: hay, g: more }], true);
  keepFeeder(pen, { ...feeder, does: here });
}
