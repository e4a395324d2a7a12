import type { PersonRow } from "../../src/core/phone/store/rows.ts";
import type { OutlookDoc } from "../../src/core/outlook/ground/documents.ts";
import type { Answer, Entry } from "../../src/core/phone/sync/wire.ts";

type Raw = Entry["ev"];

/** The smallest server that keeps the protocol's promises, for unit tests; the protocol tests use the real one. */
export class FakeServer {
  log: Entry[] = [];
  outlooks: OutlookDoc[] = [];
  epoch = 1;
  page = 500;
  now = 0;
  person: { id: string; name: string } | null;
  refuse: (ev: Raw) => string | null = () => null;
  /** What it has no room to keep for an owner: nothing is said of it. */
  full: (ev: Raw) => boolean = () => false;
  requests: { method: string; path: string; body: string; headers: Record<string, string> }[] = [];
  /** Queued replies that stand in front of the honest ones. */
  next: (() => Response | Promise<Response>)[] = [];
  outlook_rev = 0;
  /** Entries whose standing has changed since a phone heard last; its outlook_rev says that it has. */
  again: Entry[] = [];
  /** Who has signed in on this browser besides whoever is on. */
  seats = new Map<string, string>();
  signed: ((seq: number, outlook_rev: number) => string) | null = null;
  people: PersonRow[] = [{ id: "p1", name: "Ada", role: "owner" }];

  constructor(person: string) {
    this.person = { id: person, name: "Ada" };
  }

  fetch = async (path: string, init: RequestInit): Promise<Response> => {
    const headers = init.headers as Record<string, string>;
    const body = typeof init.body === "string" ? init.body : "";
    this.requests.push({ method: init.method!, path, body, headers });
    const planned = path.includes("/api/session") ? undefined : this.next.shift();
    if (planned) return planned();
    if (path === "/api/session" && init.method === "PUT")
      return this.seat((JSON.parse(body) as { person: string }).person);
    if (path === "/api/session") return json(200, this.session());
    if (!this.person) return json(401, { code: "sign_in" });
    if (path.endsWith("/events")) return this.push(JSON.parse(body));
    if (path.endsWith("/bootstrap")) return json(200, this.start());
    const query = new URL(path, "http://x").searchParams;
    return json(200, this.changes(Number(query.get("seq")), Number(query.get("outlook_rev")), this.page));
  };

  seat(id: string): Response {
    const name = this.seats.get(id);
    if (name === undefined) return json(404, { code: "not_here" });
    this.person = { id, name };
    return json(200, this.session());
  }

  session() {
    return { person: this.person, farms: [], csrf: "token", versions: { app: "1", science: "1", schema: 1 } };
  }

  push(body: { epoch: number; cursor: { seq: number; outlook_rev: number }; events: Raw[] }): Response {
    if (body.epoch !== this.epoch) return json(409, { code: "epoch", epoch: this.epoch });
    const answers = body.events.filter((ev) => !this.full(ev)).map((ev) => this.take(ev));
    const changes = this.changes(body.cursor.seq, body.cursor.outlook_rev, this.page);
    return json(200, { answers, changes, epoch: this.epoch, min_app: "", now: this.now });
  }

  take(ev: Raw): Answer {
    const held = this.log.find((entry) => entry.ev.id === ev.id);
    if (held) return { id: ev.id, st: "dup", seq: held.seq, eff: held.eff, receipt: held.receipt! };
    const code = this.refuse(ev);
    if (code) return { id: ev.id, st: "rejected", code, why: "because" };
    const seq = this.log.length + 1;
    const receipt = `taken ${ev.id}`;
    this.log.push({ seq, st: "ok", eff: null, ev, receipt });
    return { id: ev.id, st: "ok", seq, eff: null, receipt };
  }

  start() {
    const { again: _again, events, ...page } = this.changes(0, 0, Infinity);
    return { ...page, events: events.filter(({ st }) => st !== "refused"), snapshot: true };
  }

  changes(seq: number, outlook_rev: number, limit: number) {
    const events = this.log.filter((entry) => entry.seq > seq).slice(0, limit);
    const last = events.at(-1)?.seq ?? this.log.length;
    const outlooks = this.outlooks.filter((doc) => doc.rev > outlook_rev);
    return {
      epoch: this.epoch, events, ...(outlook_rev < this.outlook_rev && { again: this.again }), outlooks,
      people: this.people, seq: last, outlook_rev: this.outlook_rev,
      more: last < this.log.length, now: this.now, min_app: "",
      ...(this.signed && { signed: this.signed(last, this.outlook_rev) }),
    };
  }
}

export function json(status: number, body: unknown, headers: Record<string, string> = {}): Response {
  return new Response(JSON.stringify(body), { status, headers: { "X-Mangerline": "1", ...headers } });
}

export function portal(): Response {
  return new Response("<html>Welcome to the barn wifi</html>", {
    status: 200, headers: { "Content-Type": "text/html" },
  });
}
