import { carrying } from "../../core/barn/holds.ts";
import { calendar, nutrient } from "../words/format.ts";
import { rationsOf, shortly } from "../model/herd.ts";
import { infoOf } from "../sentences/amounts.ts";
import { day } from "../model/day.svelte.ts";
import type { Doe, Ration } from "../model/shapes.ts";
import { decimal, t } from "../words/text.ts";

const ELEMENT: Record<string, string> = { selenium: "se", copper: "cu" };
const UG_PER_MG = 1000;

/**
 * All that brings her a mineral: treatments of late, and of what she is fed or can take, what holds it and how much.
 */
export interface Carried {
  mineral: string;
  sources: string[];
}

/** Only where a treatment is not the one deliberate source: hay and grain alone always hold a little. */
export function carriedTwice(doe: Doe, mineral: string, more = 0): Carried | null {
  const given = carrying(doe, mineral, day.today);
  const fed = fedWith(doe, mineral);
  const deliberate = given.length + more + fed.filter(({ mix }) => mix).length;
  if (given.length + more === 0 || deliberate < 2) return null;
  const treatments = given.map(({ product, on }) => t("carries.given", { product, on: calendar(on, day.today) }));
  return { mineral, sources: [...treatments, ...fed.map(({ text }) => text)] };
}

function fedWith(doe: Doe, mineral: string): { text: string; mix: boolean }[] {
  const element = ELEMENT[mineral]!;
  const card = day.card;
  const amounts = new Map(card?.lines.find(({ el }) => el === element)?.sources ?? []);
  const feeds = [...reaching(doe)].map((feed) => ({
    feed, ug: amounts.get(feed) ?? 0, printed: printed(feed, element), mix: infoOf(feed).class === "mineral",
  }));
  const holding = feeds.filter(({ ug, printed }) => ug > 0 || printed > 0).sort((a, b) => b.ug - a.ug);
  return holding.map(({ feed, ug, printed, mix }) => {
    const a_doe = card?.does ? ug / card.does : 0;
    const held =
      a_doe > 0 ? t("carries.a_doe", { amount: small(a_doe) }) : t("carries.label", { ppm: decimal(printed / 100, 1) });
    return { text: t("carries.feed", { feed: shortly(infoOf(feed).name), held }), mix };
  });
}

const printed = (feed: string, element: string) =>
  Number((day.view.lots[feed] ?? day.view.feeds[feed])?.f[`${element}_ppm_x100`] ?? 0);
const small = (ug: number) =>
  ug < 100 * UG_PER_MG ? `${decimal(ug / UG_PER_MG, ug < UG_PER_MG ? 2 : 1)} mg` : nutrient(ug / UG_PER_MG);

/** What is planned for her and her pen, and what stands out for all to take. */
function reaching(doe: Doe): Set<string> {
  const still = ({ steps }: Ration) => steps.some(([, g], i) => g > 0 && (steps[i + 1]?.[0] ?? "9") > day.today);
  const planned = [doe.id, doe.pen].flatMap((subject) =>
    rationsOf(day.view, subject)
      .filter(still)
      .map(({ feed }) => feed),
  );
  const out = Object.values(day.view.feeds).filter(({ f }) => f["free_choice"] === true);
  return new Set([...planned, ...out.map(({ id }) => id)]);
}
