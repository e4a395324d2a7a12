import { kidding_span, kit_of, type KiddingSpan, type KitThing } from "../../core/barn/kit.ts";
import { KIT_PAR } from "../../core/tables/numbers.ts";
import type { Field } from "../forms/fields.ts";
import { write, writeRecord } from "../forms/write.ts";
import { herdOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { record, together } from "../model/record.ts";
import { session } from "../model/session.svelte.ts";
import { t } from "../words/text.ts";

export const KIT: Field[] = [
  { key: "name", kind: "text" },
  { key: "par", kind: "number", scale: 1, hint: "hint.kit_par" },
  { key: "count", kind: "number", scale: 1, blank: 0, label: () => "f.kit_count" },
  { key: "place", kind: "text", blank: "" },
  { key: "expires_on", kind: "date", blank: "", hint: "hint.kit_expires" },
];

/** First and last day on which a doe of the farm may kid, as far as this phone knows. */
export function span(): KiddingSpan | null {
  return kidding_span(
    herdOf(day.view).filter(({ bred }) => bred).flatMap(({ id }) => day.judged.doe(id)?.due ?? []),
  );
}

export const things = () => kit_of(day.view);

/** What is usually on hand and not on this farm's list yet, in a keeper's words. */
export function usual(): { code: string; name: string; par: number }[] {
  const held = new Set(things().map(({ name }) => name.toLowerCase()));
  return Object.entries(KIT_PAR)
    .map(([code, par]) => ({ code, name: t(`kit.thing.${code}`), par }))
    .filter(({ name }) => !held.has(name.toLowerCase()));
}

export function add(...chosen: { name: string; par: number }[]): void {
  const first = things().length;
  together(t("kit.added", { n: chosen.length }), () =>
    chosen.forEach(({ name, par }, n) =>
      writeRecord("kit", session.farm!.newId(), {
        name, par, place: "", expires_on: "", order: first + n, gone: false,
      }, undefined),
    ),
  );
}

/** One tap, spoken of by the thing itself. */
export function usedOne(thing: KitThing): void {
  if (thing.count < 1) return;
  together(t("kit.used_said", { name: thing.name, n: thing.count - 1 }), () =>
    record("kit_used", thing.id, { n: 1 }),
  );
}

/** What was counted is written down though it comes to the same: that somebody looked is worth a line. */
export function counted(counts: Record<string, number>): void {
  const seen = things().filter(({ id }) => counts[id] !== undefined);
  together(t("kit.counted_said", { n: seen.length }), () =>
    seen.forEach(({ id, row }) =>
      write("kit", id, { f: { count: counts[id]! }, base: { count: row.stamp["count"] ?? "" } }),
    ),
  );
}
