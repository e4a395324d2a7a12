import { LAST_LOOK } from "../../core/barn/chores.ts";
import { nameOf } from "../model/herd.ts";
import { day } from "../model/day.svelte.ts";
import { record, together } from "../model/record.ts";
import { session } from "../model/session.svelte.ts";
import { t } from "../words/text.ts";

type What = (typeof LAST_LOOK)[number] | "heads";

const round = (subject: string, what: What, count = 0, of = 0) => record("round", subject, { what, count, of });
const named = (doe: string) => nameOf(day.view.does[doe]);

export function countAll(of: number): void {
  together(t("heads.all.told", { of }), () => round(session.farmId, "heads", of, of));
}

/** Said of her and of the farm, in one tap: `missing` besides her. */
export function notSeen(doe: string, of: number, missing: number): void {
  together(t("heads.not_seen", { name: named(doe) }), () => {
    round(doe, "heads", 0, 1);
    round(session.farmId, "heads", of - missing - 1, of);
  });
}

export function found(doe: string, of: number, missing: number): void {
  together(t("heads.seen", { name: named(doe) }), () => {
    round(doe, "heads", 1, 1);
    round(session.farmId, "heads", of - missing, of);
  });
}

export function looked(...whats: What[]): void {
  together(whats.length === 1 ? t(`last_look.${whats[0]}`) : t("last_look.tapped", { n: whats.length }), () =>
    whats.forEach((what) => round(session.farmId, what)),
  );
}
