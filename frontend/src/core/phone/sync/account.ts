import type {
  AuditRow, Entered, Given, Heard, Invitation, Key, Member, Offered, Opening, Place, SignedInAt, Secret, SetAside,
} from "./account_shapes.ts";
import type { Call } from "./http.ts";
import type { Session } from "./session.ts";

const AUTH = "/api/auth/browser/v1";
/** A farm of years takes the server a minute, and a weak signal some more. */
const FILE_MS = 10 * 60_000;
/** What these doors say where all went well and nobody is signed in by it. */
const STILL_OUT = new Set(["sign_in"]);

/** People and their accounts: everything that needs a signal and is no entry of a farm. */
export class Account {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  refresh = () => this.#heard<Entered>(this.#session.refresh());
  signUp = (by: Opening) => this.#enter("/api/sign-up", by);
  look = (secret: Secret) => this.#ask<Offered>("POST", "/api/invitations/look", secret);
  accept = (secret: Secret, sign_up?: Opening) =>
    this.#enter("/api/invitations/accept", { ...secret, ...(sign_up && { sign_up }) });
  recover = (name: string, code: string, password: string) =>
    this.#ask<{ recovery_code: string }>("POST", "/api/recovery", { name, code, password });

  createFarm = (name: string, zone: string) => this.#ask("POST", "/api/farms", { name, zone });

  reauthenticate = (password: string) => this.#ask("POST", `${AUTH}/auth/reauthenticate`, { password });
  changePassword = (current_password: string, new_password: string) =>
    this.#ask("POST", `${AUTH}/account/password/change`, { current_password, new_password });
  mailCode = (email: string) => this.#out("POST", `${AUTH}/auth/password/request`, { email });
  mailReset = (key: string, password: string) => this.#out("POST", `${AUTH}/auth/password/reset`, { key, password });
  confirmMail = (key: string) => this.#out("POST", `${AUTH}/auth/email/verify`, { key });

  /** The options are handed to the browser as they are. */
  keyOptions = () => this.#ask<{ data: { request_options: unknown } }>("GET", `${AUTH}/auth/webauthn/login`);
  signInByKey = (credential: unknown) => this.#ask("POST", `${AUTH}/auth/webauthn/login`, { credential });
  /** After the password, where she wanted both. */
  stepOptions = () =>
    this.#ask<{ data: { request_options: unknown } }>("GET", `${AUTH}/auth/webauthn/authenticate`);
  stepByKey = (credential: unknown) => this.#ask("POST", `${AUTH}/auth/webauthn/authenticate`, { credential });
  stepByCode = (code: string) => this.#ask("POST", `${AUTH}/auth/2fa/authenticate`, { code });
  spareCodes = () =>
    this.#ask<{ data: { unused_codes: string[] } }>("POST", `${AUTH}/account/authenticators/recovery-codes`);

  newKeyOptions = () =>
    this.#ask<{ data: { creation_options: unknown } }>("GET", `${AUTH}/account/authenticators/webauthn?passwordless`);
  addKey = (name: string, credential: unknown) =>
    this.#ask("POST", `${AUTH}/account/authenticators/webauthn?passwordless`, { name, credential });
  nameKey = (id: number, name: string) => this.#ask("PUT", `${AUTH}/account/authenticators/webauthn`, { id, name });
  removeKey = (id: number) =>
    this.#ask("DELETE", `${AUTH}/account/authenticators/webauthn`, { authenticators: [id] });
  async keys(): Promise<Heard<Key[]>> {
    const heard = await this.#ask<{ data: (Key & { type: string })[] }>("GET", `${AUTH}/account/authenticators`);
    return heard.ok ? { ok: true, body: heard.body.data.filter(({ type }) => type === "webauthn") } : heard;
  }

  newRecoveryCode = (password: string) =>
    this.#ask<{ recovery_code: string }>("POST", "/api/me/recovery-code", { password });
  setPin = (pin: string, password: string) => this.#ask<{ pin: boolean }>("PUT", "/api/me/pin", { pin, password });
  setSecondStep = (on: boolean, password: string) => this.#ask("PUT", "/api/me/second-step", { on, password });
  places = () => this.#ask<{ seats: SignedInAt[] }>("GET", "/api/me/seats");
  endPlace = (id: number) => this.#ask("DELETE", `/api/me/seats/${id}`);

  invitations = (farm: string) => this.#ask<{ invitations: Invitation[] }>("GET", `${of(farm)}/invitations`);
  invite = (farm: string, place: Place) => this.#ask<Given>("POST", `${of(farm)}/invitations`, place);
  newCode = (farm: string, id: string) => this.#ask<Given>("POST", `${of(farm)}/invitations/${id}/code`);
  revoke = (farm: string, id: string) => this.#ask("DELETE", `${of(farm)}/invitations/${id}`);
  members = (farm: string) => this.#ask<{ members: Member[] }>("GET", `${of(farm)}/members`);
  setRole = (farm: string, person: string, role: string) =>
    this.#ask<{ members: Member[] }>("PATCH", `${of(farm)}/members/${person}`, { role });
  remove = (farm: string, person: string) => this.#ask("DELETE", `${of(farm)}/members/${person}`);
  leave = (farm: string) => this.#ask("POST", `${of(farm)}/leave`);
  /** The whole farm, as a file. */
  take = (farm: string, password: string) =>
    this.#heard<Blob>(
      this.#session.send({ ...request("POST", `${of(farm)}/export`, { password }), file: true, limit_ms: FILE_MS }),
    );
  erase = (farm: string, person: string, password: string) =>
    this.#ask("POST", `${of(farm)}/people/${encodeURIComponent(person)}/erase`, { password });
  close = (farm: string, name: string, password: string) => this.#ask("POST", `${of(farm)}/close`, { name, password });
  setAside = (farm: string, after: number) =>
    this.#ask<{ entries: SetAside[]; more: boolean }>("GET", `${of(farm)}/set-aside?after=${after}`);
  letIn = (farm: string, row: number) =>
    this.#ask<{ answer: { st: string; code?: string } }>("POST", `${of(farm)}/set-aside/${row}/let-in`);
  leaveOut = (farm: string, row: number) => this.#ask("POST", `${of(farm)}/set-aside/${row}/dismiss`);
  audit = (farm: string, before: number) =>
    this.#ask<{ rows: AuditRow[]; more: boolean }>("GET", `${of(farm)}/audit?before=${before}`);

  #ask<T = unknown>(method: Call["method"], path: string, body?: unknown): Promise<Heard<T>> {
    return this.#heard<T>(this.#session.send(request(method, path, body)));
  }
  #enter(path: string, body: unknown): Promise<Heard<Entered>> {
    return this.#heard<Entered>(this.#session.enter(request("POST", path, body)));
  }
  async #out(method: Call["method"], path: string, body: unknown): Promise<Heard<unknown>> {
    const heard = await this.#ask(method, path, body);
    return !heard.ok && STILL_OUT.has(heard.code) ? { ok: true, body: {} } : heard;
  }
  async #heard<T>(asked: ReturnType<Session["send"]>): Promise<Heard<T>> {
    const reply = await asked;
    if (reply.ok) return { ok: true, body: reply.body as T };
    const { code, kind, body, after_ms } = reply.failure;
    const { where = "" } = (body ?? {}) as { where?: string };
    return { ok: false, code: code || kind, where, after_ms };
  }
}

const of = (farm: string) => `/api/farms/${encodeURIComponent(farm)}`;

function request(method: Call["method"], path: string, body?: unknown): Call {
  return body === undefined ? { method, path } : { method, path, body: JSON.stringify(body) };
}
