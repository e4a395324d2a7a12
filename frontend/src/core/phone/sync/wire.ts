import type { Effective, Envelope } from "../../events/events.ts";
import type { OutlookDoc } from "../../outlook/ground/documents.ts";
import type { PersonRow } from "../store/rows.ts";

/**
 * What the server says. Only what the client acts on is checked; a reply that fails is treated as not from our server.
 */
export interface Answer {
  id: string;
  st: "ok" | "dup" | "rejected" | "parked";
  code?: string | null;
  why?: string | null;
  seq?: number | null;
  eff?: Effective | null;
  receipt?: string;
}

/**
 * Refused: in the farm's log, with a reason, and counted by nobody. Hidden: not for this person's eyes, of the event
 * there is nothing but the id. The receipt comes with one's own.
 */
export interface Entry {
  seq: number;
  st: "ok" | "parked" | "refused" | "hidden";
  eff: Effective | null;
  ev: Envelope;
  receipt?: string;
  code?: string;
  why?: string;
}

export interface Changes {
  epoch: number | string;
  events: Entry[];
  /** Entries from before the cursor that count no more since, or count again. */
  again?: Entry[];
  outlooks: OutlookDoc[];
  people: PersonRow[];
  /** Which part of the farm this is: of the does an adviser sees; "" is all of it. */
  scope?: string;
  seq: number;
  outlook_rev: number;
  signed?: string;
  more: boolean;
  /** Outlooks are on their way: ask again soon. A server of before says nothing of it. */
  outlooks_due?: boolean;
  now: number;
  min_app: string;
  snapshot?: boolean;
}

export interface PushReply {
  answers: Answer[];
  changes: Changes;
  epoch: number | string;
  min_app: string;
  now: number;
}

export function isChanges(body: unknown): body is Changes {
  const it = body as Partial<Changes> | null;
  return (
    isObject(it) && Array.isArray(it.events) && Array.isArray(it.outlooks) && Array.isArray(it.people) &&
    Number.isSafeInteger(it.seq) && Number.isSafeInteger(it.outlook_rev) && typeof it.more === "boolean" &&
    it.epoch !== undefined && it.events.every(isEntry) && isAgain(it.again) && it.outlooks.every(isOutlook)
  );
}

/** The last answer to somebody who is on the farm no more: what was handed in is kept for its owner. */
export interface Farewell {
  answers: Answer[];
  removed: true;
}

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
