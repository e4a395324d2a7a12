import type { VetPage } from "../../core/barn/vet_page.ts";
import type { Aloud, Reading } from "../../core/barn/vet/aloud.ts";
import { day } from "../model/day.svelte.ts";
import { nameOf } from "../model/herd.ts";
import { howOf } from "../sentences/prompt.ts";
import { calendar, ketones, warmth } from "../words/format.ts";
import { t } from "../words/text.ts";

/** One line to read to whoever answers the phone: who, what, since when, how far along, what was measured. */
export function aloud(page: VetPage): string {
  const { doe, aloud: of, due } = page;
  const parts = [
    t("vet.aloud.name", { name: nameOf(doe), what: t(of.buck ? "vet.aloud.buck" : "vet.aloud.doe") }), trouble(doe.id),
    ...(of.buck ? [passed(of)] : [along(of, due?.mid ?? "", doe.kidded?.born ?? 0), kids(page)]),
    of.temp ? at("temp", warmth(of.temp.value, day.units), of.temp) : t("vet.aloud.temp_not"),
    of.buck ? "" : measured(of),
  ];
  return `${parts.filter(Boolean).join("; ")}.`;
}

function trouble(id: string): string {
  const result = day.judged.doe(id);
  const { labour, off_feed } = result ?? {};
  if (labour) return t("vet.aloud.labour", { at: day.when(labour.args.since_ms) });
  if (!off_feed) return t("vet.aloud.fine");
  const since = { at: day.when(off_feed.args.since_ms) };
  if (off_feed.args.down) return t("vet.aloud.down", since);
  return t("vet.aloud.since", { ...since, how: howOf(off_feed.args) });
}

function along(of: Aloud, mid: string, born: number): string {
  if (of.to_go !== null) {
    const n = Math.abs(of.to_go);
    return t(of.to_go < 0 ? "vet.aloud.past" : "vet.aloud.to_go", { n, on: calendar(mid, day.today) });
  }
  if (of.bred_d !== null) return t("vet.aloud.bred", { days: of.bred_d });
  if (of.fresh_d === null) return t("vet.aloud.open");
  return t(of.fresh_d ? "vet.aloud.fresh" : "vet.aloud.kidded_today", { n: of.fresh_d, born });
}

/** What nobody counted is told as what it is. */
function kids({ aloud: of, litter_x100 }: VetPage): string {
  if (of.bred_d === null) return "";
  if (of.kids) return t("vet.aloud.kids", { n: of.kids });
  return litter_x100 ? t("vet.aloud.kids_guess", { n: litter_x100 / 100 }) : t("vet.aloud.kids_not");
}

function measured({ ketones: blood, urine }: Aloud): string {
  if (blood && !(urine && urine.at > blood.at)) return at("ketones", ketones(blood.value), blood);
  return urine ? at("urine", t(`o.urine.${urine.value}`).toLowerCase(), urine, "strip") : t("vet.aloud.ketones_not");
}

function passed({ passes }: Aloud): string {
  return passes ? t(`vet.aloud.passes.${passes.value}`, { at: day.when(passes.at) }) : t("vet.aloud.passes.not");
}

function at(name: string, value: string, read: Reading<unknown>, key = name): string {
  return t(`vet.aloud.${key}`, { [name]: value, at: day.when(read.at) });
}
