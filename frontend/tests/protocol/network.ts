import type { Dice } from "../support/random.ts";
import type { Server } from "./server.ts";

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
}

export const WEATHER: Faults = {
  request_lost: 8, answer_lost: 8, doubled: 6, doubled_later: 5, old_answer: 3, portal: 4, broken: 3, half: 3,
  too_large: 2,
};

/** Between a phone and the server. While `fair` is set it is an honest wire. */
export class Network {
  fair = false;
  readonly #server: Server;
  readonly #jar: Jar;
  readonly #dice: Dice;
  readonly #faults: Faults;
  #kept: (() => Promise<unknown>)[] = [];
  #answers: { path: string; body: string }[] = [];

  constructor(server: Server, jar: Jar, dice: Dice, faults: Faults) {
    this.#server = server;
    this.#jar = jar;
    this.#dice = dice;
    this.#faults = faults;
  }

  fetch = async (path: string, init: RequestInit): Promise<Response> => {
    if (this.fair) return this.#send(path, init);
    const fate = this.#fate();
    if (fate.request_lost) throw new TypeError("request lost");
    if (fate.portal) return new Response("<html>Guest network</html>", { headers: { "Content-Type": "text/html" } });
    if (fate.broken) return ours(503, "{}");
    if (fate.too_large && path.endsWith("/events")) return ours(413, "{}");
    if (fate.doubled_later) this.#kept.push(() => this.#send(path, init));
    if (fate.doubled) await this.#send(path, init);
    const response = await this.#send(path, init);
    if (fate.answer_lost) throw new TypeError("answer lost");
    return this.#spoiled(path, response, fate);
  };

  /** Drawn before anything is awaited: a run must not depend on how long the server takes. */
  #fate(): Record<keyof Faults, boolean> & { which: number } {
    const drawn = Object.entries(this.#faults).map(([fault, chance]) => [fault, this.#dice.below(100) < chance]);
    return { ...(Object.fromEntries(drawn) as Record<keyof Faults, boolean>), which: this.#dice.below(1000) };
  }

  /** Requests that got stuck somewhere arrive after all, in any order, when nobody waits for them. */
  async deliverLate(): Promise<void> {
    const kept = this.#kept;
    this.#kept = [];
    while (kept.length) await kept.splice(this.#dice.below(kept.length), 1)[0]!().catch(() => undefined);
  }

  async #send(path: string, init: RequestInit): Promise<Response> {
    const headers = { ...(init.headers as Record<string, string>), Cookie: this.#jar.text };
    const response = await fetch(this.#server.url + path, {
      method: init.method!, headers, body: init.body ?? null, signal: init.signal ?? null,
    });
    this.#jar.take(response);
    return response;
  }

  async #spoiled(
    path: string, response: Response, fate: { old_answer: boolean; half: boolean; which: number },
  ): Promise<Response> {
    const body = await response.text();
    const kind = path.split("?")[0]!;
    const older = this.#answers.filter((answer) => answer.path === kind);
    if (response.ok) this.#answers.push({ path: kind, body });
    if (older.length && fate.old_answer) return ours(200, older[fate.which % older.length]!.body);
    if (fate.half) return ours(response.status, body.slice(0, Math.floor(body.length / 2)));
    return new Response(body, { status: response.status, headers: response.headers });
  }
}

function ours(status: number, body: string): Response {
  return new Response(body, { status, headers: { "X-Mangerline": "1" } });
}
