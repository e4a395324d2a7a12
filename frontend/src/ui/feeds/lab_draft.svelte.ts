import { read_minerals } from "../../core/barn/lab/minerals.ts";
import { read_report, KINDS, type Outcome } from "../../core/barn/lab/report.ts";
import type { Remark } from "../../core/barn/lab/columns.ts";
import { writeRecord } from "../forms/write.ts";
import { day } from "../model/day.svelte.ts";
import type { Data, RecordRow } from "../model/shapes.ts";

type Texts = Record<string, string>;
export interface Read extends Outcome {
  minerals: Record<string, number>;
  column: "received" | "dry" | "both" | "";
}

/** What tells of energy: the figure itself, or the fibre it is worked out from. */
export const ENERGY_LINES = ["tdn", "nel", "me", "adf"] as const;
/** Lines that share one unit. */
const TOGETHER = ["cp", "ndf", "adf", "tdn", "ca", "p", "lignin", "fat", "ash"];
const WET = /silage|haylage|fresh|pasture|sprout|browse/;
const ONLY_HERE = ["dm", "moisture"];

/** A report being typed in. It outlives the screen, so that looking something up costs nothing typed. */
export class LabDraft {
  name = $state("");
  feed = $state("");
  kind = $state("");
  cured = $state("");
  lab_on = $state("");
  tdn_by = $state("");
  uip = $state("");
  /** Which of the report's columns is typed in now, and which figure it gives for energy. */
  column = $state<"dry" | "received">("dry");
  energy = $state<(typeof ENERGY_LINES)[number]>("tdn");
  readonly received: Texts = $state({});
  readonly dry: Texts = $state({});
  readonly units: Texts = $state({});

  /** The unit of the shares, said once. */
  get unit(): string {
    return this.units["cp"] ?? "";
  }
  set unit(unit: string) {
    for (const name of TOGETHER) this.units[name] = unit;
  }

  /** What kind of feed the report is about: as said, or else as the feed it is about is known. */
  kindOf(id: string): string {
    const known = day.feeds[id]?.class ?? "";
    const guess = id.startsWith("corn_silage")
      ? "corn_silage"
      : (KINDS as readonly string[]).includes(known)
        ? known
        : "other";
    return this.kind || guess;
  }
  curedOf(id: string): string {
    return this.cured || (WET.test(id) ? "wet" : "hay");
  }

  read(about: string): Read {
    const { received, dry, units } = $state.snapshot({ received: this.received, dry: this.dry, units: this.units });
    const kind = this.kindOf(about);
    const found = read_report({
      received, dry, units, kind, cured: this.curedOf(about) === "hay", tdn_by: this.tdn_by,
    });
    const minerals = read_minerals(received, dry, units, found.fields["dm_pct_x10"] ?? null);
    // A report with nothing but minerals is a report as well.
    const problems = found.problems.filter(([code]) => code !== "no_figures" || !Object.keys(minerals.fields).length);
    return {
      ...found, problems: [...problems, ...minerals.problems, ...this.#uip_problem()], minerals: minerals.fields,
      column: columnOf(received, dry),
    };
  }

  #uip_problem(): Remark[] {
    const share = this.#uip();
    return share === null || (share >= 0 && share <= 1000) ? [] : [["unreadable", "uip", ""]];
  }
  #uip(): number | null {
    const text = this.uip.trim().replace(",", ".");
    return text === "" ? null : /^\d+(\.\d+)?$/.test(text) ? Math.round(Number(text) * 10) : -1;
  }

  values({ fields, minerals, tdn_by, column }: Read): Data {
    const uip = this.#uip();
    return {
      ...fields, ...minerals, lab_on: this.lab_on, lab_column: column, ...(uip === null ? {} : { uip_pct_x10: uip }),
      ...("tdn_pct_x10" in fields ? { tdn_by } : {}),
    };
  }

  save(read: Read, kind: "lot" | "feed", id: string, row: RecordRow | undefined) {
    const about = kind === "lot" ? { feed: this.feed } : { like: this.feed };
    const named = row ? {} : { name: this.name.trim(), ...about };
    return writeRecord(kind, id, { ...named, ...this.values(read) }, row);
  }
}

function columnOf(received: Texts, dry: Texts): Read["column"] {
  const filled = (texts: Texts) =>
    Object.entries(texts).some(([name, text]) => !ONLY_HERE.includes(name) && text.trim());
  const [wet, printed] = [filled(received), filled(dry)];
  return wet && printed ? "both" : wet ? "received" : printed ? "dry" : "";
}

const drafts = new Map<string, LabDraft>();

export function draftFor(key: string): LabDraft {
  const held = drafts.get(key) ?? new LabDraft();
  drafts.set(key, held);
  return held;
}
export const forget = (key: string) => drafts.delete(key);
