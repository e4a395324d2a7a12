import { addDays, isDate } from "../base/days.ts";
import type { Envelope } from "../events/events.ts";
import { rows, text, truth, whole } from "../events/values.ts";
import type { Feeding, Freeze, Intake, Line, Round, Triage } from "./view.ts";

/** A lifted one stays as what it was until the day before: somebody has to give back what it took away. */
export function freeze_of({ id: ev, hlc, on, author, data }: Envelope, before: Freeze | null): Freeze {
  const [until, of, yesterday] = [text(data, "until_on"), text(data, "of"), day_before(on)];
  const earlier = before?.earlier ?? [];
  if (until === "") {
    const { since, grain_out, out_on, until: held } = before ?? { since: on, grain_out: false, out_on: "", until: "" };
    return { ev, hlc, on, since, until: held < yesterday ? held : yesterday, grain_out, out_on, author, of, earlier };
  }
  const grain_out = truth(data, "grain_out");
  const goes_on = before && before.until >= yesterday;
  const [since, out_on] = goes_on ? [before.since, before.out_on] : [on, ""];
  return {
    ev, hlc, on, since, until, grain_out, out_on: grain_out ? out_on || on : "", author, of,
    earlier: goes_on ? earlier : with_ended(earlier, before),
  };
}

const FREEZES_KEPT = 8;

function with_ended(earlier: NonNullable<Freeze["earlier"]>, before: Freeze | null): Freeze["earlier"] {
  if (!before || before.until < before.since) return earlier;
  return [...earlier, [before.since, before.until, before.hlc] as [string, string, string]].slice(-FREEZES_KEPT);
}

/** A text that is no date comes back as it is. */
function day_before(on: string): string {
  return isDate(on) && on > "1000" ? addDays(on, -1) : on;
}

/** What somebody found who looked at a doe off her feed. */
export function triage_of({ id: ev, on, happened, author, data }: Envelope): Triage {
  const [of, new_feed, water_bad] = [text(data, "of"), text(data, "new_feed"), text(data, "water_bad")];
  const [bullied, suspect, result] = [text(data, "bullied"), text(data, "suspect"), text(data, "result")];
  const [left, passes, strains] = [text(data, "left"), text(data, "passes"), text(data, "strains")];
  return { ev, on, happened, author, of, new_feed, water_bad, bullied, suspect, result, left, passes, strains };
}

export function feeding_of(event: Envelope): Feeding {
  const { id: ev, subject, on, slot, happened, author, data } = event;
  const lines = rows(data, "lines").map((line): Line => [text(line, "to"), text(line, "feed"), whole(line, "g")]);
  return { ev, subject, on, slot, happened, author, adds: truth(data, "adds"), lines };
}

/** What was seen at the feeder; it takes date and slot from the feeding it names. */
export function intake_of(event: Envelope, feedings: Map<string, Feeding>): Intake {
  const { id: ev, subject, happened, author, data } = event;
  const fed = feedings.get(text(data, "fed")) ?? event;
  const how = text(data, "how");
  const left_pm = how === "left_some" ? 10 * whole(data, "left_pct") : how === "refused" ? 1000 : 0;
  return { ev, subject, on: fed.on, slot: fed.slot, happened, author, how, left_pm, feed: text(data, "feed") };
}

/** One look round: heads counted, water, hay, gates, or who was let out of the head gate. */
export function round_of({ id: ev, subject, on, slot, happened, author, data }: Envelope): Round {
  return {
    ev, subject, on, slot, happened, author, what: text(data, "what"), count: whole(data, "count"),
    of: whole(data, "of"),
  };
}
