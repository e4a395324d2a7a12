import type { SetAside } from "../../core/phone/sync/account_shapes.ts";
import { day } from "../model/day.svelte.ts";
import { nameOf } from "../model/herd.ts";
import type { Envelope } from "../model/shapes.ts";
import { spoken } from "../sentences/records.ts";
import { has, t } from "../words/text.ts";

const eventOf = ({ event }: SetAside) => event as Partial<Envelope>;

export function aboutSaid(one: SetAside): string {
  const subject = String(eventOf(one).subject ?? "");
  return nameOf(day.view.does[subject] ?? day.view.pens[subject]) || t("farm");
}

/** In words, as far as there are any: nobody has judged yet what stands in it. */
export function lineOf(one: SetAside): string {
  const { kind = "", data = {}, slot = "", subject = "" } = eventOf(one);
  try {
    return spoken({ kind, data, slot, subject });
  } catch {
    return t(has(`rec.${kind}`) ? `rec.${kind}` : "aside.unreadable");
  }
}

export function whenSaid(one: SetAside): string {
  const { happened } = eventOf(one);
  return Number.isSafeInteger(happened) ? day.when(happened!) : t("unknown");
}
