import { localClock } from "../model/hours.ts";
import type { Invitation, Member, Offered } from "../../core/phone/sync/account_shapes.ts";
import { dated } from "../words/format.ts";
import { t } from "../words/text.ts";

export const todayHere = (): string =>
  localClock(Date.now(), Intl.DateTimeFormat().resolvedOptions().timeZone || "UTC").date;

/** "from Monday 4 May to Friday 8 May", "" for somebody who stays. */
export function daysSaid({ starts_on, ends_on }: Pick<Invitation | Member, "starts_on" | "ends_on">): string {
  const today = todayHere();
  const from = starts_on && dated(starts_on, today);
  const to = ends_on && dated(ends_on, today);
  if (from && to) return t("days.both", { from, to });
  return from ? t("days.from", { from }) : to ? t("days.to", { to }) : "";
}

/** The same as a sentence of its own. */
export function daysOn(stay: Pick<Invitation | Member, "starts_on" | "ends_on">): string {
  const days = daysSaid(stay);
  return days && t("days.on", { days });
}

/** What somebody is asked to be, and what that lets her do. */
export function offerSaid(offered: Offered): string[] {
  const role = t(`role.${offered.role}`);
  const first = offered.made_by
    ? t("join.by", { who: offered.made_by, farm: offered.farm, role })
    : t("join.by_nobody", { farm: offered.farm, role });
  return [first, t(`role.${offered.role}.may`), daysOn(offered)].filter(Boolean);
}
