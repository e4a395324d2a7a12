import type { Effective, Envelope } from "../../events/events.ts";
import type { OutlookDoc } from "../../outlook/ground/documents.ts";
import type * as said from "../../tables/wire.ts";
import type { PersonRow } from "../store/rows.ts";
import type { Instead, Narrowed, Since, Sure } from "./narrowed.ts";

/**
 * What the server says. Only what the client acts on is checked; a reply that fails is treated as not from our server.
 */
export type Answer = Sure<Narrowed<said.EntryAnswer, { eff: Effective | null }>, "id" | "st">;

/**
 * Refused: in the farm's log, with a reason, and counted by nobody. Hidden: not for this person's eyes, of the event
 * there is nothing but the id. The receipt comes with one's own.
 */
export type Entry = Narrowed<said.Entry, { eff: Effective | null; ev: Envelope }>;

/**
 * `again`: entries from before the cursor that count no more since, or count again. `scope`: which part of the farm
 * this is, of the does an adviser sees; "" is all of it. `outlooks_due`: outlooks are on their way, ask again soon.
 */
export type Changes = Since<
  Narrowed<said.Changes, { events: Entry[]; again?: Entry[]; outlooks: OutlookDoc[]; people: PersonRow[] }>,
  "scope" | "signed" | "outlooks_due"
>;

export type PushReply = Instead<Omit<said.PushReply, "removed">, { answers: Answer[]; changes: Changes }>;

export function isChanges(body: unknown): body is Changes {
  const it = body as Partial<Changes> | null;
  return (
    isObject(it) && Array.isArray(it.events) && Array.isArray(it.outlooks) && Array.isArray(it.people) &&
    Number.isSafeInteger(it.seq) && Number.isSafeInteger(it.outlook_rev) && typeof it.more === "boolean" &&
    it.epoch !== undefined && it.events.every(isEntry) && isAgain(it.again) && it.outlooks.every(isOutlook)
  );
}

/** The last answer to somebody who is on the farm no more: what was handed in is kept for its owner. */
export type Farewell = Instead<
  Pick<said.PushReply, "answers" | "removed">, { answers: Answer[]; removed: true }
> & Partial<Pick<said.PushReply, "epoch">>;

export function isFarewell(body: unknown): body is Farewell {
  const { removed, answers } = (isObject(body) ? body : {}) as Partial<Farewell>;
  return removed === true && Array.isArray(answers) && answers.every(isAnswer);
}

export function isPushReply(body: unknown): body is PushReply {
  const it = body as Partial<PushReply> | null;
  return isObject(it) && Array.isArray(it.answers) && it.answers.every(isAnswer) && isChanges(it.changes);
}

function isAnswer(item: unknown): boolean {
  return isObject(item) && typeof item["id"] === "string" && typeof item["st"] === "string";
}

function isEntry(item: unknown): boolean {
  return (
    isObject(item) && Number.isSafeInteger(item["seq"]) && isObject(item["ev"]) && typeof item["ev"]["id"] === "string"
  );
}

function isAgain(items: unknown): boolean {
  return items === undefined || (Array.isArray(items) && items.every(isEntry));
}

function isOutlook(item: unknown): boolean {
  return isObject(item) && typeof item["doe"] === "string" && Number.isSafeInteger(item["rev"]);
}

function isObject(item: unknown): item is Record<string, unknown> {
  return typeof item === "object" && item !== null && !Array.isArray(item);
}
