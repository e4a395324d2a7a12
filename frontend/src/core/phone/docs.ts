import type { OutlookRow } from "./store/rows.ts";
import { CARD, type HerdCard } from "../outlook/card.ts";
import { YEARS, type YearsDoc } from "../outlook/years.ts";
import type { Book } from "../outlook/ground/herd_figures.ts";
import type { Outlook, OutlookDoc } from "../outlook/ground/documents.ts";

/**
 * Outlooks as they lie in storage, read when somebody asks for them: sixty of them weigh more than all else a phone
 * holds of a farm, and a list of names needs none.
 */
export class Docs {
  /** Moves whenever one of them is another than before. */
  version = 0;
  #rows = new Map<string, OutlookRow>();
  #read = new Map<string, OutlookDoc>();

  /** As they are stored. */
  get rows(): OutlookRow[] {
    return [...this.#rows.values()];
  }

  get names(): string[] {
    return [...this.#rows.keys()];
  }

  get(name: ""): Book | undefined;
  get(name: typeof CARD): HerdCard | undefined;
  get(name: typeof YEARS): YearsDoc | undefined;
  get(name: string): Outlook | undefined;
  get(name: string): OutlookDoc | undefined {
    let doc = this.#read.get(name);
    const row = this.#rows.get(name);
    if (doc === undefined && row) this.#read.set(name, (doc = docOf(row)));
    return doc;
  }

  replace(rows: OutlookRow[]): void {
    this.#rows = new Map(rows.map((row) => [row.doe, row]));
    this.#read = new Map();
    this.version++;
  }

  /** Takes what is newer than what is there. */
  take(doc: OutlookDoc): void {
    const held = this.#rows.get(doc.doe);
    if (held && doc.rev <= (held.rev ?? docOf(held).rev)) return;
    this.#rows.set(doc.doe, { doe: doc.doe, rev: doc.rev, doc });
    this.#read.set(doc.doe, doc);
    this.version++;
  }
}

export function docOf({ text, doc }: OutlookRow): OutlookDoc {
  return (text === undefined ? doc : JSON.parse(text)) as OutlookDoc;
}
