import { localClock } from "../model/hours.ts";
import { ROLES, type AuditRow } from "../../core/phone/sync/account_shapes.ts";
import { day } from "../model/day.svelte.ts";
import { session } from "../model/session.svelte.ts";
import { clock } from "../words/format.ts";
import { has, t } from "../words/text.ts";

const MINUTE_MS = 60_000;

export const dayOn = (ms: number): string => localClock(ms, session.zone).date;
export const untilSaid = (ms: number): string => day.spoken(dayOn(ms));

/** How long a code is good yet: begun minutes count. */
export const minutesLeft = (until_ms: number, now_ms: number): number =>
  Math.max(0, Math.ceil((until_ms - now_ms) / MINUTE_MS));

/** With a capital, as a line or a heading begins. */
export const begun = (text: string): string => text.charAt(0).toLocaleUpperCase() + text.slice(1);

/** One line of what happened. Roles in it are said in words; what the server adds in English is left out. */
export function auditSaid({ what, name, about, detail }: AuditRow): string {
  const roles = detail.split(" ").filter((word) => (ROLES as readonly string[]).includes(word));
  const [was = "", role = was] = roles.map((one) => t(`role.${one}`));
  const on = /\d{4}-\d\d-\d\d$/.exec(detail)?.[0];
  const args = { on: on ? day.spoken(on) : "", who: name || t("someone"), whom: about || t("someone"), was, role };
  const key = about && about !== name && has(`audit.${what}.other`) ? `audit.${what}.other` : `audit.${what}`;
  return begun(t(has(key) ? key : "audit.something", args));
}

export interface AuditDay {
  on: string;
  rows: { id: number; at: string; line: string }[];
}

/** By the farm's own days, in the order they came. */
export function byDay(rows: AuditRow[], zone: string): AuditDay[] {
  const days: AuditDay[] = [];
  for (const row of rows) {
    const on = localClock(row.at, zone).date;
    if (days.at(-1)?.on !== on) days.push({ on, rows: [] });
    days.at(-1)!.rows.push({ id: row.id, at: clock(row.at, zone), line: auditSaid(row) });
  }
  return days;
}
