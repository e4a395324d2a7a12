import { when_of, type Pack, type PlannedStep } from "../../core/barn/packs.ts";
import { holds } from "../../core/barn/holds.ts";
import { addDays, calendar, span } from "../words/format.ts";
import { day } from "../model/day.svelte.ts";
import { nameOf } from "../model/herd.ts";
import { latest } from "../model/of_subject.ts";
import type { DoeResult } from "../model/results.ts";
import type { Doe } from "../model/shapes.ts";
import { infoOf, inHand } from "../sentences/amounts.ts";
import { t } from "../words/text.ts";

/** Who is watched without anybody asking: so many days before her date, and so many after her kids. */
const DUE_D = 42;
const FRESH_D = 21;

/** "29 Nov–3 Dec". */
export const datesSaid = ({ from_on, to_on }: Pick<Pack, "from_on" | "to_on">): string =>
  span(from_on, to_on, day.today);

export const whenSaid = (pack: Pack): string => t(`pack.when.${when_of(pack, day.today)}`);

/** Why a sitter should look at her more than once: "due 12 Jan", "off her feed". */
export function whyLook(doe: Doe, result: DoeResult | undefined, from_on: string, to_on: string): string[] {
  const due = result?.due?.mid ?? "";
  const fresh = doe.kidded && doe.kidded.on >= addDays(from_on, -FRESH_D);
  const held = doe.freeze && doe.freeze.until >= day.today;
  return [
    due && due <= addDays(to_on, DUE_D) ? t("pack.why.due", { on: calendar(due, day.today) }) : "",
    fresh ? t("pack.why.fresh", { on: calendar(doe.kidded!.on, day.today) }) : "",
    result?.off_feed || result?.down ? t("pack.why.off") : "",
    held || holds(doe, day.today).length ? t("pack.why.hold") : "",
  ].filter(Boolean);
}

/** "Marigold: Oats 300 to 400 g on Thursday, morning". */
export const stepSaid = ({ subject, slots, feed, on, from, g }: PlannedStep): string =>
  t("pack.step", {
    name: day.named(subject), feed: infoOf(feed).name, from: day.amount(from), to: day.amount(g),
    on: day.mealDay(on), slot: slots.map((slot) => t(`pack.slot.${slot}`)).join(", "),
  });

/** By the container where there is one, however old its weight: whoever helps out has nothing better to go by. */
export function handSaid(feed: string, g: number): { hand: string; weight: string } {
  const { first } = inHand(feed, g);
  return { hand: first || day.amount(g), weight: first ? day.amount(g) : "" };
}

/** Whoever has never seen her can tell which one she is. */
export const known = ({ id, f }: Doe): boolean => Boolean(latest(day.view, id, "her") || f["tag"] || f["mark"]);

/** Her mark, her tag and her breed: what to know her by beside her picture. */
export function marksOf(doe: Doe): string {
  const breed = String(doe.f["breed"] ?? "");
  const kind = breed && !["unknown", "grade"].includes(breed) ? t(`o.breed.${breed}`) : "";
  const tag = String(doe.f["tag"] ?? "");
  const buck = doe.f["sex"] === "buck" ? t("pack.buck") : "";
  return [String(doe.f["mark"] ?? ""), tag && t("pack.tag", { tag }), kind, buck].filter(Boolean).join(", ");
}

export const namesOf = (ids: string[]): string =>
  ids.map((id) => day.view.does[id]).filter((doe) => doe && !doe.left_on).map(nameOf).join(", ");
