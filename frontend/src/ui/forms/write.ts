import { BadEvent, type Problem } from "../../core/events/bad_event.ts";
import { problem_in } from "../../core/events/payloads.ts";
import { VERSIONS } from "../../core/events/kinds.ts";
import { record } from "../model/record.ts";
import type { Data, Fields, Kind, When } from "../model/shapes.ts";

/** Records one event, or says which field is wrong. */
export function write(kind: Kind, subject: string, data: Data, when: When = {}): Problem | null {
  const problem = problem_in(kind, VERSIONS[kind], data);
  if (problem) return problem;
  try {
    record(kind, subject, data, when);
    return null;
  } catch (error) {
    if (error instanceof BadEvent) return error.problem;
    throw error;
  }
}

/** Only what changed, each with the stamp of the value the person saw. */
export function changed(values: Data, held: Pick<Fields, "f" | "stamp"> | undefined): Data {
  const f = Object.fromEntries(Object.entries(values).filter(([key, value]) => value !== held?.f[key]));
  const base = Object.fromEntries(Object.keys(f).map((key) => [key, held?.stamp[key] ?? ""]));
  return { f, base };
}

/** Saving a record nobody changed writes nothing and is no mistake. */
export function writeRecord(
  kind: Kind, subject: string, values: Data, held: Pick<Fields, "f" | "stamp"> | undefined,
  when: When = {},
): Problem | null {
  const data = changed(values, held);
  return Object.keys(data["f"] as Data).length === 0 ? null : write(kind, subject, data, when);
}
