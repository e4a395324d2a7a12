import { StoreError } from "../store/errors.ts";
import type { EventRow, OutboxRow } from "../store/rows.ts";
import {
  isRefused, joined, NOT_SEATED, restated, rowsOf, settleAnswers, UPDATE, type Settled,
} from "../store/settle.ts";
import { answer_reaches_back } from "../recent.ts";
import { beside_own, judged_here, refuses } from "../stand_in.ts";
import { headOf, MOST_EVENTS, nextBatch, pushBody } from "./batch.ts";
import { done, later, REMOVED, type Ended } from "./ended.ts";
import { offered_again } from "./farewell.ts";
import { failed, type Failure, type Reply } from "./http.ts";
import type { At } from "./narrowed.ts";
import type { Parts } from "./sender_parts.ts";
import { isChanges, isFarewell, isPushReply, type Changes, type Farewell } from "./wire.ts";

const MOST_TURNS = 500;
const ASTRAY = "astray";
const MOST_MENDED = 2;
const TAKEN_BYTES = 32_000;

/**
 * Sends what waits and fetches what is new, until both are empty or something stops it. Never deletes anything unsent.
 */
export class Sender {
  readonly #parts: Parts;
  #running: Promise<Ended> | null = null;
  #most = MOST_EVENTS;
  #gzip = true;
  /** How often this run has started again from the short list because something could not be taken in. */
  #mended = 0;
  /** What the server takes no more of today: it holds up nothing else. */
  readonly #put_off = new Set<string>();

  constructor(parts: Parts) {
    this.#parts = parts;
  }

  run(): Promise<Ended> {
    this.#running ??= this.#alone().finally(() => (this.#running = null));
    return this.#running;
  }

  /** One tab sends at a time. Two would still be correct: every write checks the cursor inside its own transaction. */
  async #alone(): Promise<Ended> {
    const { env, person, farmId } = this.#parts;
    if (!env.locks) return this.#pass();
    const name = `mangerline/send/${person}/${farmId}`;
    return env.locks.request(name, { ifAvailable: true }, async (lock) => (lock ? this.#pass() : later("other_tab")));
  }

  async #pass(): Promise<Ended> {
    this.#mended = 0;
    this.#put_off.clear();
    try {
      const ended = (await this.#signedIn()) ?? (await this.#known()) ?? (await this.#turns());
      return ended.kind === "removed" ? await this.#lastWords() : ended;
    } catch (error) {
      return later(error instanceof Error ? error.message : "failed");
    }
  }

  /** On the farm no more, and perhaps told so before anything could be handed in. */
  async #lastWords(): Promise<Ended> {
    const again = await offered_again(this.#parts, this.#path("events"));
    if (typeof again !== "boolean") return this.#stopFor(again);
    return again || (await this.#parts.keeping.unsent()).length ? this.#turns() : REMOVED;
  }

  async #signedIn(): Promise<Ended | null> {
    const { session, person } = this.#parts;
    if (!session.facts) {
      const reply = await session.refresh();
      if (!reply.ok) return this.#stopFor(reply.failure);
    }
    const on = () => session.facts?.person?.id ?? "";
    const other = on();
    // On a shared phone each sends as herself: whoever has a seat of her own takes it, whoever has none waits.
    const taken = other === person ? null : await session.take(person);
    if (on() === person) return null;
    if (taken && !taken.ok && taken.failure.kind !== "not_member") return this.#stopFor(taken.failure);
    session.forget();
    return { kind: "locked", why: other ? "other_person" : "sign_in" };
  }

  async #known(): Promise<Ended | null> {
    const { keeping } = this.#parts;
    if (keeping.astray) return this.#bootstrap("astray");
    return keeping.position().epoch === undefined ? this.#bootstrap("first") : null;
  }

  async #turns(): Promise<Ended> {
    for (let turn = 0; turn < MOST_TURNS; turn++) {
      const unsent = (await this.#parts.keeping.unsent()).filter(({ id }) => !this.#put_off.has(id));
      const batch = nextBatch(unsent, this.#most);
      this.#parts.sending(batch.length, unsent.length);
      const ended = batch.length ? await this.#pushTurn(batch, unsent.length) : await this.#pullTurn();
      if (ended) return ended;
    }
    return later("many_turns");
  }

  async #pushTurn(batch: OutboxRow[], unsent: number): Promise<Ended | null> {
    const reply = await this.#push(batch, unsent);
    if (!reply.ok) return this.#onPushFailure(reply.failure, batch);
    if (isFarewell(reply.body)) return this.#handedIn(batch, unsent, reply.body);
    if (!isPushReply(reply.body)) return this.#stopFor(failed("not_ours").failure);
    this.#most = Math.min(MOST_EVENTS, this.#most * 2);
    const settled = settleAnswers(batch, reply.body.answers, reply.body.changes.now);
    const taken = await this.#take(settled, reply.body.changes);
    if (taken !== "taken") return taken === "anew" ? null : taken;
    if (reply.body.answers.some(({ code }) => code === NOT_SEATED)) return this.#otherSeat();
    const put_off = reply.body.answers.filter(({ code }) => code === UPDATE);
    for (const { id } of put_off) this.#put_off.add(id);
    if (settled.events.length + settled.sent.length + put_off.length === 0) return later("no_answers");
    return unsent === batch.length && !reply.body.changes.more ? done(reply.body.changes) : null;
  }

  /** Whatever the server answered, its owner has it, and nobody here is left to mend it. All else goes on waiting. */
  async #handedIn(batch: OutboxRow[], unsent: number, { answers }: Farewell): Promise<Ended | null> {
    const answered = new Set(answers.map(({ id }) => id));
    const gone = batch.filter(({ id }) => answered.has(id)).map(({ id }) => id);
    if (gone.length === 0) return later("no_answers");
    const settled: Settled = { events: [], sent: gone, refused: [], gone };
    await this.#settle(settled);
    return unsent === gone.length ? REMOVED : null;
  }

  /** The server takes somebody else to be sending: these wait until whoever recorded them is signed in. */
  #otherSeat(): Ended {
    this.#parts.session.forget();
    return { kind: "locked", why: "other_person" };
  }

  async #pullTurn(): Promise<Ended | null> {
    const { epoch, cursor } = this.#parts.keeping.position();
    const { seq, outlook_rev, signed } = cursor;
    const shown = signed ? `&signed=${encodeURIComponent(signed)}` : "";
    const path = this.#path(`changes?seq=${seq}&outlook_rev=${outlook_rev}&epoch=${epoch}&limit=500${shown}`);
    const reply = await this.#parts.session.send({ method: "GET", path } satisfies At<"pull">);
    if (!reply.ok) return reply.failure.kind === "epoch" ? this.#bootstrap("epoch") : this.#stopFor(reply.failure);
    if (!isChanges(reply.body)) return this.#stopFor(failed("not_ours").failure);
    const taken = await this.#take(settleAnswers([], [], reply.body.now), reply.body);
    if (taken !== "taken") return taken === "anew" ? null : taken;
    return reply.body.more ? null : done(reply.body);
  }

  /** "anew": the farm was fetched whole, and own entries may be waiting again. */
  async #take(settled: Settled, changes: Changes): Promise<Ended | "taken" | "anew"> {
    try {
      return await this.#taken(settled, changes);
    } catch (error) {
      return (await this.#mend(error)) ?? "anew";
    }
  }

  /**
   * Storage that refuses is no reason to throw away what is in it. Anything else the short list may mend, not for ever.
   */
  async #mend(error: unknown): Promise<Ended | null> {
    if (error instanceof StoreError) throw error;
    this.#parts.keeping.went_astray(error);
    this.#mended++;
    return this.#mended > MOST_MENDED ? later(ASTRAY) : this.#bootstrap("astray");
  }

  async #taken(answered: Settled, changes: Changes): Promise<Ended | "taken" | "anew"> {
    const { store, keeping, env, clock } = this.#parts;
    const settled = joined(answered, restated(changes, keeping));
    const rows = this.#rows(changes);
    const counts_again = changes.again?.some((entry) => !isRefused(entry)) ?? false;
    const another_part = (changes.scope ?? "") !== (keeping.meta.scope ?? "");
    if (counts_again || another_part || answer_reaches_back(changes, keeping)) {
      await this.#settle(settled);
      return (await this.#bootstrap(another_part ? "scope" : "late")) ?? "anew";
    }
    const reply = { settled, changes, rows, clock: clock.last, at: env.now() };
    const { kind, events } = await store.applyReply(reply).then(
      (verdict) => {
        keeping.storageWorks();
        return verdict;
      },
      (error: unknown) => {
        if (!refuses(error)) throw error;
        keeping.storageFailed("reply", error);
        return judged_here(settled, changes, keeping.position());
      },
    );
    if (kind === "other_epoch") return (await this.#bootstrap("epoch")) ?? "anew";
    keeping.settled({ ...settled, events });
    if (kind === "gap") return (await this.#bootstrap("gap")) ?? "anew";
    keeping.applied(changes, rows);
    return "taken";
  }

  async #bootstrap(why: string): Promise<Ended | null> {
    const { keeping, env, session, view } = this.#parts;
    keeping.note("bootstrap", why);
    const asked: At<"bootstrap"> = { method: "GET", path: this.#path("bootstrap"), limit_ms: 60_000 };
    const reply = await session.send(asked);
    if (!reply.ok) return this.#stopFor(reply.failure);
    if (!isChanges(reply.body)) return this.#stopFor(failed("not_ours").failure);
    try {
      const rows = this.#rows(reply.body);
      const seen = why === "first" && (await keeping.arrived(reply.body, rows));
      if (seen) await env.drawn();
      await this.#keep(reply.body, rows, seen, why);
      // A farm that cannot be added up has not arrived.
      view();
    } catch (error) {
      if (error instanceof StoreError) throw error;
      keeping.went_astray(error);
      return later(ASTRAY);
    }
    return null;
  }

  async #keep(farm: Changes, rows: EventRow[], seen: boolean, why: string): Promise<void> {
    const { store, keeping, env, clock } = this.#parts;
    try {
      await store.applySnapshot(farm, rows, clock.last, env.now(), why === "epoch");
    } catch (error) {
      if (!refuses(error) || !keeping.standsIn(farm, (own, outbox) => beside_own(rows, own, outbox))) throw error;
      return keeping.storageFailed("snapshot", error);
    }
    if (seen) keeping.stored(farm);
    else await keeping.reload();
  }

  #rows(changes: Changes): EventRow[] {
    const { keeping, clock } = this.#parts;
    clock.heard(changes.now);
    return rowsOf(changes, keeping, (hlc) => clock.merge(hlc));
  }

  async #push(batch: OutboxRow[], pending: number): Promise<Reply> {
    const { env, keeping, session } = this.#parts;
    const text = pushBody({ ...headOf(batch, keeping.position(), env.now()), pending }, batch);
    const packed = this.#gzip && env.gzip ? await env.gzip(text).catch(() => null) : null;
    const sent: At<"push"> = { method: "POST", path: this.#path("events"), body: packed ?? text, gzipped: !!packed };
    return session.send(sent);
  }

  async #onPushFailure(failure: Failure, batch: OutboxRow[]): Promise<Ended | null> {
    if (failure.kind === "epoch") return this.#bootstrap("epoch");
    if (failure.kind !== "too_large" && failure.kind !== "unreadable") return this.#stopFor(failure);
    this.#parts.keeping.note(failure.kind, String(batch.length));
    if (failure.kind === "unreadable" && this.#gzip && this.#parts.env.gzip) this.#gzip = false;
    else if (batch.length > 1) this.#most = Math.floor(batch.length / 2);
    else return this.#aloneRefused(batch[0]!, failure);
    return null;
  }

  /** An entry our server is known to take that is still "too large" has met somebody else's limit: it waits. */
  async #aloneRefused(row: OutboxRow, failure: Failure): Promise<Ended | null> {
    if (failure.kind === "too_large" && row.text.length < TAKEN_BYTES) return this.#stopFor(failure);
    await this.#refuseHere(row, failure.kind === "too_large" ? "too_big" : "unreadable");
    return null;
  }

  /** One entry the server cannot even read must not hold up the rest; it stays here for a person to see. */
  async #refuseHere(row: OutboxRow, code: string): Promise<void> {
    const settled = settleAnswers([row], [{ id: row.id, st: "rejected", code, why: "" }], this.#parts.env.now());
    await this.#settle(settled);
  }

  /** Storage that refuses these asks again at its next start; for this run memory has them crossed off. */
  async #settle(settled: Settled): Promise<void> {
    const { store, keeping } = this.#parts;
    await store.applyAnswers(settled).catch((error: unknown) => {
      if (!refuses(error)) throw error;
      keeping.storageFailed("answers", error);
    });
    keeping.settled(settled);
  }

  #stopFor(failure: Failure): Ended {
    const { keeping, session } = this.#parts;
    keeping.note("stopped", failure.kind);
    if (failure.kind === "sign_in" || failure.kind === "csrf") session.forget();
    if (failure.kind === "removed") return REMOVED;
    if (failure.kind === "sign_in") return { kind: "locked", why: "sign_in" };
    if (failure.kind === "proof") return { kind: "locked", why: "other_person" };
    if (failure.kind === "not_member" || failure.kind === "refused") return { kind: "locked", why: "not_member" };
    return { kind: "later", why: failure.kind, after_ms: failure.after_ms };
  }

  #path<R extends string>(rest: R) {
    return `/api/farms/${this.#parts.farmId}/${rest}` as const;
  }
}
