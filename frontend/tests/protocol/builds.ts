import { vi } from "vitest";
import { Farm } from "../../src/core/phone/farm.ts";

/** The app as a phone has it: today's, or a newer one that records a further version of some kinds. */
export type Build = typeof Farm;
export const TODAY: Build = Farm;

/** The same in tests/support/newer_kinds.py. */
const NEWER_KINDS = ["fed", "ration"] as const;

/** A second copy of the core in the same process, with a table of versions of its own. */
export async function newerBuild(): Promise<Build> {
  vi.resetModules();
  const { VERSIONS } = await import("../../src/core/events/kinds.ts");
  const { FORMS } = await import("../../src/core/tables/forms.ts");
  for (const kind of NEWER_KINDS) {
    const today = VERSIONS[kind];
    VERSIONS[kind] = today + 1;
    FORMS[`${kind} ${today + 1}`] = FORMS[`${kind} ${today}`]!;
  }
  const { Farm: newer } = await import("../../src/core/phone/farm.ts");
  return newer;
}
