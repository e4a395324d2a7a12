import type { Env } from "../../base/env.ts";
import type * as said from "../../tables/wire.ts";
import { call, failed, type Call, type FailureKind, type Reply } from "./http.ts";
import type { At, Since } from "./narrowed.ts";

/** With days, of somebody who is here for some. */
export type FarmEntry = said.FarmRow;

/** `account`: what she has set about herself. `seats`: who has a place on this browser. */
export type SessionFacts = Since<said.Session, "account" | "sign_up" | "mail" | "seats">;

/** How often another one may come in between before it is given up. */
const MOST_TURNS = 4;

/** Signed out on this browser meanwhile, or asked for a proof that only signing in gives. */
const NOT_HERS = new Set<FailureKind>(["not_member", "proof"]);
const ON: Reply = { ok: true, status: 200, body: null };

type SessionEnv = Pick<Env, "fetch" | "setTimer" | "clearTimer">;

/**
 * Who is signed in on this browser, and the token each write needs. The token changes at every sign-in, so it is asked
 * for again when refused and never stored with anything queued.
 */
export class Session {
  readonly #env: SessionEnv;
  #facts: SessionFacts | null = null;
  /** How the last place was taken. */
  #taken: Promise<Reply> = Promise.resolve(ON);
  /** For this run alone: the server asks for it as well when her place is taken. */
  readonly #pins = new Map<string, string>();

  constructor(env: SessionEnv) {
    this.#env = env;
  }

  get facts(): SessionFacts | null {
    return this.#facts;
  }

  async refresh(): Promise<Reply> {
    return this.#keep(await call(this.#env, { method: "GET", path: "/api/session" } satisfies At<"session">));
  }

  async signIn(name: string, password: string): Promise<Reply> {
    const body = JSON.stringify({ name, password } satisfies said.SignIn);
    return this.enter({ method: "POST", path: "/api/session", body } satisfies At<"signIn">);
  }

  /** What is answered with who is on from now. */
  async enter(request: Call, as = ""): Promise<Reply> {
    return this.#keep(await this.sendAs(as, request));
  }

  holdPin(person: string, pin: string): void {
    this.#pins.set(person, pin);
  }

  /**
   * Somebody who has signed in on this browser before, and not out again, is on from now. One after the other: each
   * begins the server's session anew, and whoever asks by the old one meanwhile has a place no more.
   */
  take(person: string): Promise<Reply> {
    const before = this.#taken;
    this.#taken = before.then((last) => (last.ok && this.facts?.person?.id === person ? last : this.#take(person)));
    return this.#taken;
  }

  async #take(person: string): Promise<Reply> {
    const pin = this.#pins.get(person);
    const body = JSON.stringify({ person, ...(pin !== undefined && { pin }) } satisfies said.TakeOver);
    const request: At<"takeOver"> = { method: "PUT", path: "/api/session", body };
    return this.#keep(await call(this.#env, { ...request, csrf: this.#facts?.csrf ?? "" }));
  }

  async signOut(person: string): Promise<Reply> {
    const path = "/api/session";
    const asked = person ? (`${path}?person=${encodeURIComponent(person)}` as const) : path;
    const reply = await this.send({ method: "DELETE", path: asked } satisfies At<"signOut">);
    if (reply.ok) this.forget();
    return reply;
  }

  /** Writes with a fresh token; asks for a new one once if the server refuses the old. */
  async send(request: Call): Promise<Reply> {
    if (!this.#facts) {
      const reply = await this.refresh();
      if (!reply.ok) return reply;
    }
    const person = this.#facts?.person?.id;
    const first = await this.#call(request);
    if (first.ok || first.failure.kind !== "csrf") return first;
    const renewed = await this.refresh();
    if (!renewed.ok) return renewed;
    // The token went because somebody else is on, for a while or in another tab: this was not theirs to send.
    const on = this.#facts?.person?.id;
    if (person !== undefined && on !== person) return failed(on === undefined ? "sign_in" : "turn");
    return this.#call(request);
  }

  /**
   * The same as PERSON: meanwhile another one's entries may be on their way from this browser, under her own name. A
   * write counts for whoever its token was given to; what was read may be the other's. "": whoever is on.
   */
  async sendAs(person: string, request: Call): Promise<Reply> {
    for (let turns = person ? MOST_TURNS : 0; ; turns--) {
      const heard = await this.#turnTo(person);
      if (!heard.ok) return heard;
      const reply = await this.send(request);
      const read = request.method === "GET" || !reply.ok;
      if (!read || this.#may_be(person)) return reply;
      if (turns === 0) return failed("turn");
    }
  }

  /** Where nobody is on, the server says so itself. */
  async #turnTo(person: string): Promise<Reply> {
    const known = this.#facts ? ON : await this.refresh();
    if (!known.ok || this.#may_be(person)) return known;
    const taken = await this.take(person);
    return taken.ok || !NOT_HERS.has(taken.failure.kind) ? taken : failed("turn");
  }

  #may_be(person: string): boolean {
    const on = this.#facts?.person;
    return person === "" || (this.#facts !== null && (!on || on.id === person));
  }

  #call(request: Call): Promise<Reply> {
    return call(this.#env, { ...request, csrf: this.#facts?.csrf ?? "" });
  }

  forget(): void {
    this.#facts = null;
  }

  #keep(reply: Reply): Reply {
    if (!reply.ok) return reply;
    if (!isFacts(reply.body)) return failed("not_ours");
    this.#facts = reply.body;
    return reply;
  }
}

function isFacts(body: unknown): body is SessionFacts {
  const it = body as Partial<SessionFacts> | null;
  return typeof it === "object" && it !== null && typeof it.csrf === "string" && Array.isArray(it.farms);
}
