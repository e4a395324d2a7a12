import { addDays, dayOf } from "../base/days.ts";
import type { RecordRow, View } from "../state/view.ts";
import { ASK_VET_AFTER_D, ASK_VET_BEFORE_D } from "../tables/numbers.ts";

/**
 * What the farm's own vet wrote for an emergency card, and what stands ready for it. What is past its date counts as
 * missing.
 */
export interface OnShelf {
  id: string;
  told: string;
  product: string;
  place: string;
  expires_on: string;
  expired: boolean;
}

/** The cards whose trouble can be prepared for with the vet before it comes. */
const ASKED = ["milk_fever", "toxemia"];

export function shelf_of(view: View, card: string, today: string): OnShelf[] {
  return Object.values(view.shelf)
    .filter(({ f }) => f["card"] === card && f["gone"] !== true)
    .map((row) => on_shelf(row, today));
}

function on_shelf({ id, f }: RecordRow, today: string): OnShelf {
  const text = (key: string) => String(f[key] ?? "").trim();
  const expires_on = text("expires_on");
  return {
    id, told: text("told"), product: text("product"), place: text("place"), expires_on,
    expired: expires_on !== "" && expires_on < today,
  };
}

export const is_told = (view: View, card: string, today: string) =>
  shelf_of(view, card, today).some(({ told }) => told !== "");

export interface Asked {
  cards: string[];
  /** Some weeks before the first doe may kid, or a few days after she came into late pregnancy. */
  before: string;
}

/**
 * From late pregnancy of the first doe on, until the vet's words are there. `dues`: earliest kidding days that are
 * known.
 */
export function to_ask(view: View, today: string, late_day: number, dues: Record<string, string>): Asked | null {
  const cards = ASKED.filter((card) => !is_told(view, card, today));
  const late = Object.values(view.does).filter(
    ({ bred, left_on }) => bred && !left_on && dayOf(today) - dayOf(bred.from) >= late_day,
  );
  if (!cards.length || !late.length) return null;
  const days = late.map(({ id, bred }) =>
    dues[id] ? addDays(dues[id], -ASK_VET_BEFORE_D) : addDays(bred!.from, late_day + ASK_VET_AFTER_D),
  );
  return { cards, before: days.sort()[0]! };
}
