import { at_once } from "../../base/at_once.ts";
import { full, gathered, unreadable } from "./evaluate.ts";
import type { Envelope } from "../../events/events.ts";
import type { Log } from "../../state/refold.ts";
import type { View } from "../../state/view.ts";
import { Context, once } from "../ground/context.ts";
import { doe_result, seen } from "./doe_result.ts";
import { forget, local } from "./local.ts";
import { one_feeds } from "../ill/one_feed.ts";
import { urgent } from "../words/prompts.ts";
import type { DoeResult, FullResult, Results } from "../ground/shapes.ts";
import { judge, speak, unit_of, units_of, type Unit } from "./units.ts";

const ON_HAND = ["rations", "lots", "feeds", "bags", "feedings"] as const;
const UNKNOWN = { fibre: null, lines: {}, days: 0, awaited: null, on_acts: [], risk: null };

/** Farm and day, judged unit by unit: at once where somebody asks, the rest step by step between taps. */
export class Evaluation {
  readonly ctx: Context;
  readonly #failed: (error: unknown) => void;
  readonly #judged = new Map<string, Unit>();
  /** How units stood before the last entries, until they are judged again. */
  readonly #held = new Map<string, Unit>();
  readonly #alone = new Map<string, DoeResult>();
  readonly #first = new Map<string, DoeResult | undefined>();
  readonly #full = new Map<DoeResult, FullResult>();
  #unreadable: Results | null = null;
  /** What was worked out by unit beyond what is said, as long as nothing moves what it goes by. */
  #beside = new Map<string, Map<string, unknown>>();

  constructor(ctx: Context, failed: (error: unknown) => void) {
    [this.ctx, this.#failed] = [ctx, failed];
  }

  /**
   * After a few more entries, which the view holds already; null when they reach too far. The one before starts anew.
   */
  after(view: View, events: Envelope[], log: Log): Evaluation | null {
    const ctx = new Context(view, this.ctx.outlooks, this.ctx.book, this.ctx.day, this.ctx);
    const about = this.#unreadable ? null : local(ctx, this.ctx, events, log);
    // two off one feed are everybody's matter
    const moved = about !== null && JSON.stringify(one_feeds(ctx)) !== JSON.stringify(one_feeds(this.ctx));
    if (about === null || moved) return null;
    ctx.inherit(this.ctx);
    const next = new Evaluation(ctx, this.#failed);
    const stale = new Set(about.flatMap((event) => forget(ctx, event)));
    for (const [unit, held] of [...this.#held, ...this.#judged]) next.#held.set(unit, held);
    for (const [unit, held] of this.#judged) if (!stale.has(unit)) next.#judged.set(unit, held);
    if (ON_HAND.every((part) => view[part] === this.ctx.view[part]))
      for (const [unit, kept] of this.#beside) if (!stale.has(unit)) next.#beside.set(unit, kept);
    return next;
  }

  /** To keep what was worked out of a doe or a pen until something about her pen, or what is on hand, is another. */
  kept_of(subject: string): Map<string, unknown> {
    const unit = Object.hasOwn(this.ctx.view.does, subject) ? unit_of(this.ctx, subject) : subject;
    return once(this.#beside, unit, () => new Map<string, unknown>());
  }

  get finished(): boolean {
    return this.#unreadable !== null || units_of(this.ctx).every((unit) => this.#judged.has(unit));
  }

  doe(id: string): DoeResult | undefined {
    return Object.hasOwn(this.ctx.view.does, id) && this.ctx.here(id)
      ? this.unit(unit_of(this.ctx, id)).does[id]
      : undefined;
  }

  /** With what her own page needs; until her pen is judged, what can be said of her before. */
  full(id: string): FullResult | undefined {
    const result = this.first(id) ?? this.doe(id);
    return result && once(this.#full, result, () =>
      this.#safely(() => full(this.ctx, result), (all) => all.does[id]!),
    );
  }

  unit(unit: string): Unit {
    const held = this.#judged.get(unit);
    return (
      held ??
      this.#safely(
        () => this.#keep(unit, at_once(this.#judge(unit))), (all) => of_all(all, unit, this.ctx),
      )
    );
  }

  results(): Results {
    return this.#safely(() => gathered(this.ctx, (unit) => this.unit(unit)), (all) => all);
  }

  /**
   * Her own result right after a tap, before her penmates'. Where what was seen of her decides, her sums stay as they
   * were until her pen is judged; where they decide, what the pen shares is taken as it stood.
   */
  first(id: string): DoeResult | undefined {
    const { ctx } = this;
    if (!Object.hasOwn(ctx.view.does, id) || !ctx.here(id)) return undefined;
    const [done, held] = [this.#judged.get(unit_of(ctx, id)), this.#held.get(unit_of(ctx, id))];
    return (
      done?.does[id] ??
      once(this.#first, id, () =>
        this.#safely(() => this.#urgent(id, held) ?? (held && this.#by_held(id, held)), (all) => all.does[id]),
      )
    );
  }

  #urgent(id: string, held: Unit | undefined): DoeResult | null {
    const found = seen(this.ctx, id);
    const prompt = urgent(this.ctx, id, found);
    return prompt && { ...(held?.does[id] ?? UNKNOWN), ...found, prompt };
  }

  #by_held(id: string, held: Unit): DoeResult {
    const own = this.#of(id);
    const result = { ...own, lines: { ...own.lines } };
    const line = own.lines["ca"];
    if (line?.of === "pen")
      result.lines["ca"] = { ...line, st: held.does[id]?.lines["ca"]?.st ?? "unknown", ahead: null };
    speak(this.ctx, id, result);
    const { prompt } = result;
    return { ...result, prompt: prompt && { ...prompt, in_pen: prompt.code === held.prompt?.code } };
  }

  /**
   * Judges what is left, in the order that is asked for; gives each unit once it is judged, whoever asked for it first,
   * and in between nothing, to breathe.
   */
  *steps(first: string[]): Generator<string | undefined, void> {
    const units = units_of(this.ctx);
    for (const unit of new Set([...first.filter((each) => units.includes(each)), ...units])) {
      const work = this.#judge(unit);
      while (!this.#judged.has(unit) && !this.#unreadable) {
        const step = this.#next(work);
        if (step?.done) this.#keep(unit, step.value);
        else yield undefined;
      }
      yield unit;
    }
  }

  #next(work: Generator<void, Unit>): IteratorResult<void, Unit> | null {
    return this.#safely<IteratorResult<void, Unit> | null>(() => work.next(), () => null);
  }

  #judge(unit: string): Generator<void, Unit> {
    return judge(this.ctx, unit, (id) => this.#of(id));
  }

  #of(id: string): DoeResult {
    return once(this.#alone, id, () => doe_result(this.ctx, id));
  }

  #keep(unit: string, found: Unit): Unit {
    this.#judged.set(unit, found);
    return found;
  }

  /** A number this app needs and the book does not have means that one of them is too old, and nothing is guessed. */
  #safely<T>(work: () => T, without: (all: Results) => T): T {
    if (this.#unreadable) return without(this.#unreadable);
    try {
      return work();
    } catch (error) {
      this.#failed(error);
      this.#unreadable = unreadable(this.ctx);
      return without(this.#unreadable);
    }
  }
}

function of_all(all: Results, unit: string, ctx: Context): Unit {
  const ids = ctx.pen_mates(unit, ctx.day).filter((id) => all.does[id]);
  return { does: Object.fromEntries(ids.map((id) => [id, all.does[id]!])), prompt: null };
}
