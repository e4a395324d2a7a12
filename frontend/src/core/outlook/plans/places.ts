import { compareText } from "../../events/order.ts";
import { amount_on, place_key } from "../../state/planned.ts";
import type { Ration } from "../../state/view.ts";
import { on_hand, eaten_by_all } from "../acts/on_hand.ts";
import type { ActLine } from "../acts/shapes.ts";
import { pen_on } from "../../state/where.ts";
import { div } from "../../base/ints.ts";
import { changed } from "../gates/change.ts";
import { Context, shift, SLOTS } from "../ground/context.ts";
import { is_grain } from "../ground/feed_classes.ts";
import { as_if_weighed, planned_slots, subject_lines } from "../feeding/plan.ts";
import { frozen } from "../ground/freeze.ts";
import { grain_g } from "../feeding/sharing.ts";

/** Where her feed stands in the plan, and the plan with other lines in it. */

const own = new WeakMap<Context, Context>();

/** So that no look-up of the farm as it is learns of what is only tried. */
export function own_context(ctx: Context): Context {
  const found = own.get(ctx) ?? as_if_weighed(new Context(ctx.view, ctx.outlooks, ctx.book, ctx.day, ctx));
  own.set(ctx, found);
  return found;
}

/** An amount under question is answered by it. */
export function with_lines(ctx: Context, lines: ActLine[]): Context {
  const rations = { ...ctx.view.rations };
  const keys = new Set(lines.map(({ subject, slot, feed }) => place_key(subject, slot, feed)));
  for (const { subject, feed, slot, steps } of lines)
    Object.assign(rations, changed(rations, { subject, feed, slots: [slot], steps }));
  const questions = ctx.view.questions.filter(({ kind, field }) => kind !== "ration" || !keys.has(field));
  const answered = questions.length === ctx.view.questions.length ? ctx.view.questions : questions;
  return new Context({ ...ctx.view, rations, questions: answered }, ctx.outlooks, ctx.book, ctx.day, ctx);
}

/**
 * What waited, or ended with kidding, as an amount of its own from tomorrow on: a plan written anew is moved by nothing
 * before it, so that steps kept of the old one would come at once.
 */
export function as_she_stands(ctx: Context, id: string): ActLine[] {
  if (ctx.doe(id).freeze?.grain_out && frozen(ctx, id)) return [];
  const tomorrow = shift(ctx.day, 1);
  return (ctx.plans.get(id) ?? []).flatMap(({ slot, feed, steps }) => {
    const given = (on: string) => as_planned(ctx, id, slot, feed, on);
    const days = [tomorrow, ...steps.map(([on]) => on).filter((on) => on > tomorrow)];
    if (days.every((on) => given(on) === amount_on(steps, on))) return [];
    return [{ subject: id, to: "doe", slot, feed, from_g: given(ctx.day), steps: [[tomorrow, given(tomorrow)]] }];
  });
}

/** Grams a phone would show. */
export const as_planned = (ctx: Context, subject: string, slot: string, feed: string, on: string): number =>
  subject_lines(ctx, subject, on, slot).find(([what]) => what === feed)?.[1] ?? 0;

/** The same with what comes after it, where that is planned too. */
export function one_after_the_other(before: ActLine[], after: ActLine[]): ActLine[] {
  const key = ({ subject, slot, feed }: ActLine) => place_key(subject, slot, feed);
  const held = new Map(before.map((line) => [key(line), line]));
  const joined = after.map((line) => {
    const first = held.get(key(line));
    held.delete(key(line));
    const steps = first?.steps.filter(([on]) => on < line.steps[0]![0]) ?? [];
    return { ...line, from_g: first ? first.from_g : line.from_g, steps: [...steps, ...line.steps] };
  });
  return [...held.values(), ...joined];
}

/** Where she eats: her pen, or she herself where she stands in none. */
export const unit_at = (ctx: Context, id: string): string => pen_on(ctx.doe(id), ctx.day) || id;

export function stands_alone(ctx: Context, id: string): boolean {
  return ctx.pen_mates(unit_at(ctx, id), ctx.day).filter((mate) => ctx.here(mate)).length < 2;
}

/** Lines of a doe's or a feeder's plan that give something today or later. */
export function given_to(ctx: Context, subject: string): Ration[] {
  const fed = ({ steps }: Ration) => amount_on(steps, ctx.day) > 0 || steps.some(([on, g]) => on > ctx.day && g > 0);
  return (ctx.plans.get(subject) ?? []).filter(fed);
}

/** Her own grain first, then what most does of the farm are given, then any that is on the farm. */
export function grains_for(ctx: Context, id: string): string[] {
  const all = on_hand(ctx).filter((feed) => ctx.feed(feed)!.class === "grain" && eaten_by_all(ctx, [id], feed));
  const hers = new Set(given_to(ctx, id).map(({ feed }) => feed));
  const others = (feed: string) =>
    Object.values(ctx.view.rations).filter((one) => one.feed === feed && amount_on(one.steps, ctx.day) > 0).length;
  return all.sort((a, b) =>
    Number(hers.has(b)) - Number(hers.has(a)) || others(b) - others(a) || compareText(a, b));
}

/** The feedings at which she gets grain already; else morning and evening, as far as she is fed then. */
export function grain_slots(ctx: Context, id: string): string[] {
  const hers = given_to(ctx, id).filter(({ feed }) => is_grain(ctx.feed(feed))).map(({ slot }) => slot);
  if (hers.length) return SLOTS.filter((slot) => hers.includes(slot));
  const fed = planned_slots(ctx, id, shift(ctx.day, 1));
  const usual = fed.filter((slot) => slot === "morning" || slot === "evening");
  return usual.length ? usual : fed.slice(0, 2);
}

/** Grams of a feed as fed at each of some feedings that make so much dry grain a day. */
export function as_fed(ctx: Context, feed: string, slots: string[], dry_grain_g: number): number {
  return div(dry_grain_g * 1000, Math.max(1, grain_g(ctx, [[feed, 1000 * slots.length]])));
}

/** One line a feeding, with what is given there before the first of its steps. */
export function lines_for(
  ctx: Context, subject: string, feed: string, slots: string[], steps: ActLine["steps"],
): ActLine[] {
  return slots.map((slot) => {
    const held = ctx.view.rations[place_key(subject, slot, feed)]?.steps ?? [];
    const to = Object.hasOwn(ctx.view.does, subject) ? "doe" : "pen";
    return { subject, to, slot, feed, from_g: amount_on(held, shift(steps[0]![0], -1)), steps };
  });
}
