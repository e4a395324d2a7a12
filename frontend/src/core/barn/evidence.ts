import { addDays } from "../base/days.ts";
import { compareText } from "../events/order.ts";
import { HEAT_BEFORE_D, OWN_LONGEST_D, OWN_SHORTEST_D, SERVICE_KNOWN_D } from "../tables/numbers.ts";
import type { Doe } from "../state/view.ts";

/** One thing her dates go by, as it was said: `what` with its days, and of a scan what it found. */
export interface Known {
  ev: string;
  what: "hand" | "pen" | "marked" | "standing" | "flagging" | "check";
  on: string;
  to: string;
  buck: string;
  check: Doe["checks"][number] | null;
  /** The buck is in with her to this day. */
  still?: boolean;
}

/** The exposure the buck is in, or was in last, in this pregnancy. */
export function withBuck(doe: Doe): Doe["services"][number] | undefined {
  return doe.services.filter(({ how, from }) => how === "pen" && from >= doe.open_on).at(-1);
}

/** All that was recorded of the pregnancy she is in, or may be in, the earliest first. */
export function evidenceOf(doe: Doe): Known[] {
  const since = doe.open_on;
  const served = doe.services.filter(({ from }) => from >= since).map(
    ({ ev, from: on, to, how, buck, still }): Known => ({
      ev, what: how === "pen" ? "pen" : "hand", on, to, buck, check: null,
      still: still === true && doe.bred?.ev === ev,
    }),
  );
  const first = served.map(({ on }) => on).sort(compareText)[0];
  const heats = doe.heats.filter(([on]) => on >= since && (!first || on >= addDays(first, -HEAT_BEFORE_D))).map(
    ([on, , what, , ev]): Known => ({ ev, what: what as Known["what"], on, to: on, buck: "", check: null }),
  );
  const checks = doe.checks.filter(({ on, result }) => on >= since && result !== "open").map(
    (check): Known => ({ ev: check.ev, what: "check", on: check.on, to: check.on, buck: "", check }),
  );
  return [...served, ...heats, ...checks].sort((a, b) => compareText(a.on, b.on));
}

/** Days from each service of hers that is known to a day or two to its kidding. */
export function ownLengths(doe: Doe, days: (from: string, to: string) => number): number[] {
  const near = doe.gestations.filter(({ from, to }) => days(from, to) <= SERVICE_KNOWN_D);
  const lengths = near.map(({ from, to, on }) => days(from, on) - days(from, to) / 2);
  return lengths.filter((length) => length >= OWN_SHORTEST_D && length <= OWN_LONGEST_D);
}
