import type { Dice } from "../support/random.ts";
import type { Server } from "./server.ts";
import type { Fault, Tally } from "./tally.ts";
import type { Timers } from "./timers.ts";

/** A browser's cookies: shared by everybody who uses the phone, which is the point of some runs. */
export class Jar {
  readonly #cookies = new Map<string, string>();

  set(name: string, value: string): void {
    this.#cookies.set(name, value);
  }

  take(response: Response): void {
    for (const line of response.headers.getSetCookie()) {
      const [pair] = line.split(";");
      const at = pair!.indexOf("=");
      this.#cookies.set(pair!.slice(0, at), pair!.slice(at + 1));
    }
  }

  get text(): string {
    return [...this.#cookies].map(([name, value]) => `${name}=${value}`).join("; ");
  }
}

/** Chance in a hundred of each fault, per request. */
export interface Faults {
  request_lost: number;
  answer_lost: number;
  doubled: number;
  doubled_later: number;
  old_answer: number;
  portal: number;
  broken: number;
  half: number;
  too_large: number;
  hands_full: number;
  meanwhile: number;
}

export const WEATHER: Faults = {
  request_lost: 8, answer_lost: 8, doubled: 6, doubled_later: 5, old_answer: 3, portal: 4, broken: 3, half: 3,
  too_large: 2, hands_full: 4, meanwhile: 4,
};

type Fate = Record<keyof Faults, boolean> & { which: number };

/** Of the phone's browser. */
export interface Page {
  /** Until when the server has told it to wait. */
  held_until_ms: number;
}

interface Parts {
  server: Server;
  jar: Jar;
  dice: Dice;
  faults: Faults;
  tally: Tally;
  timers: Timers;
  /** Something else happens on the farm while a request is on its way. */
  meanwhile: () => Promise<void>;
}

const IDS = /"id":\s*"([0-9a-f-]{36})"/g;

/** Between a phone and the server. While `fair` is set it is an honest wire. */
export class Network {
  fair = false;
  /** Whatever an answer that reached this phone has named. */
  readonly heard = new Set<string>();
  readonly problems: string[] = [];
  readonly #parts: Parts;
  #kept: (() => Promise<unknown>)[] = [];
  #answers: { path: string; body: string }[] = [];

  constructor(parts: Parts) {
    this.#parts = parts;
  }

  fetch = async (path: string, init: RequestInit, page: Page): Promise<Response> => {
    this.#patience(page, path);
    if (this.fair) return this.#heard(await this.#send(path, init));
    const fate = this.#fate();
    if (fate.request_lost) throw this.#lost("request lost");
    const refused = this.#turnedAway(path, fate, page);
    if (refused) return refused;
    if (fate.doubled_later) this.#kept.push(() => this.#send(path, init));
    if (fate.doubled) await this.#again(path, init);
    if (fate.meanwhile && fate.which % 2) await this.#parts.meanwhile();
    const response = await this.#send(path, init);
    if (fate.meanwhile && !(fate.which % 2)) await this.#parts.meanwhile();
    if (fate.answer_lost) throw this.#lost("answer lost");
    return this.#heard(await this.#spoiled(path, response, fate));
  };

  #turnedAway(path: string, fate: Fate, page: Page): Response | null {
    const pushed = path.endsWith("/events");
    if (fate.portal) return this.#portal();
    if (fate.broken) return this.#said("server broken", 503);
    if (fate.too_large && pushed) return this.#said("too large", 413);
    return fate.hands_full && pushed ? this.#handsFull(fate.which, page) : null;
  }

  /** Drawn before anything is awaited: a run must not depend on how long the server takes. */
  #fate(): Fate {
    const { faults, dice } = this.#parts;
    const drawn = Object.entries(faults).map(([fault, chance]) => [fault, dice.below(100) < chance]);
    return { ...(Object.fromEntries(drawn) as Record<keyof Faults, boolean>), which: dice.below(1000) };
  }

  /** Requests that got stuck somewhere arrive after all, in any order, when nobody waits for them. */
  async deliverLate(): Promise<void> {
    const { dice, tally } = this.#parts;
    const kept = this.#kept;
    this.#kept = [];
    tally.add("request delivered late", kept.length);
    while (kept.length) await kept.splice(dice.below(kept.length), 1)[0]!().catch(() => undefined);
  }

  async #send(path: string, init: RequestInit): Promise<Response> {
    const { server, jar } = this.#parts;
    const headers = { ...(init.headers as Record<string, string>), Cookie: jar.text };
    const response = await fetch(server.url + path, {
      method: init.method!, headers, body: init.body ?? null, signal: init.signal ?? null,
    });
    jar.take(response);
    return response;
  }

  async #again(path: string, init: RequestInit): Promise<void> {
    this.#parts.tally.add("request doubled");
    await this.#send(path, init);
  }

  #lost(fault: Fault): TypeError {
    this.#parts.tally.add(fault);
    return new TypeError(fault);
  }

  #said(fault: Fault, status: number): Response {
    this.#parts.tally.add(fault);
    return ours(status, "{}");
  }

  #portal(): Response {
    this.#parts.tally.add("guest network");
    return new Response("<html>Guest network</html>", { headers: { "Content-Type": "text/html" } });
  }

  #handsFull(which: number, page: Page): Response {
    const { tally, timers } = this.#parts;
    const wait_s = 20 + (which % 100);
    tally.add("hands full");
    page.held_until_ms = timers.elapsed_ms + 1000 * wait_s;
    return ours(503, JSON.stringify({ code: "busy" }), { "Retry-After": String(wait_s) });
  }

  #patience(page: Page, path: string): void {
    const left_ms = page.held_until_ms - this.#parts.timers.elapsed_ms;
    if (left_ms > 0) this.problems.push(`impatient: ${path.slice(-20)}, ${left_ms} ms too soon`);
  }

  async #spoiled(
    path: string, response: Response, fate: { old_answer: boolean; half: boolean; which: number },
  ): Promise<Response> {
    const { tally } = this.#parts;
    const body = await response.text();
    const kind = path.split("?")[0]!;
    const older = this.#answers.filter((answer) => answer.path === kind);
    if (response.ok) this.#answers.push({ path: kind, body });
    if (older.length && fate.old_answer) {
      tally.add("old answer");
      return ours(200, older[fate.which % older.length]!.body);
    }
    if (fate.half) tally.add("half an answer");
    if (fate.half) return ours(response.status, body.slice(0, Math.floor(body.length / 2)));
    return new Response(body, { status: response.status, headers: response.headers });
  }

  async #heard(response: Response): Promise<Response> {
    const body = await response.text();
    for (const [, id] of body.matchAll(IDS)) this.heard.add(id!);
    if (response.ok && body.includes('"removed":true')) this.#parts.tally.add("handed in by somebody removed");
    return new Response(body || null, { status: response.status, headers: response.headers });
  }
}

function ours(status: number, body: string, more: Record<string, string> = {}): Response {
  return new Response(body, { status, headers: { "X-Mangerline": "1", ...more } });
}
