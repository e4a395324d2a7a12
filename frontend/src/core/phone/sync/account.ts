import type { Doors } from "../../tables/wire.ts";
import type {
  Entered, Heard, Key, MemberChange, NoticeChoices, Opening, OwnAddress, Place, Secret, Where,
} from "./account_shapes.ts";
import type { Call } from "./http.ts";
import type { At } from "./narrowed.ts";
import type { Session } from "./session.ts";

type Name = keyof Doors;
type Body<D extends Name> = Doors[D]["takes"] extends undefined ? [] : [body: Doors[D]["takes"]];

const AUTH = "/api/auth/browser/v1";
const OWN_MAIL = `${AUTH}/account/email`;
/** A farm of years takes the server a minute, and a weak signal some more. */
const FILE_MS = 10 * 60_000;
const PART_MS = 75_000;
/** What these doors say where all went well and nobody is signed in by it. */
const STILL_OUT = new Set(["sign_in"]);

/** People and their accounts: everything that needs a signal and is no entry of a farm. */
export class Account {
  readonly #session: Session;
  /** Whoever the pages are shown to; "" where nobody is on yet. */
  readonly #on: () => string;

  constructor(session: Session, on: () => string = () => "") {
    this.#session = session;
    this.#on = on;
  }

  refresh = () => this.#heard<Entered>(this.#session.refresh());
  signUp = (by: Opening) => this.#enter<"signUp">("/api/sign-up", by);
  look = (secret: Secret) => this.#free<"lookAtInvitation">("POST", "/api/invitations/look", secret);
  accept = (secret: Secret, sign_up?: Opening) =>
    this.#enter<"acceptInvitation">(
      "/api/invitations/accept", { ...secret, ...(sign_up && { sign_up }) }, sign_up ? "" : this.#on(),
    );
  recover = (name: string, code: string, password: string) =>
    this.#free<"recover">("POST", "/api/recovery", { name, code, password });

  createFarm = (name: string, zone: string) => this.#ask<"makeFarm">("POST", "/api/farms", { name, zone });

  reauthenticate = (password: string) => this.#auth("POST", `${AUTH}/auth/reauthenticate`, { password });
  changePassword = (current_password: string, new_password: string) =>
    this.#auth("POST", `${AUTH}/account/password/change`, { current_password, new_password });
  mailCode = (email: string) => this.#out("POST", `${AUTH}/auth/password/request`, { email });
  mailReset = (key: string, password: string) => this.#out("POST", `${AUTH}/auth/password/reset`, { key, password });
  confirmMail = (key: string) => this.#out("POST", `${AUTH}/auth/email/verify`, { key });
  ownMail = () => this.#own("GET");
  setMail = (email: string) => this.#own("POST", { email });
  dropMail = (email: string) => this.#own("DELETE", { email });
  mailAgain = (email: string) => this.#auth("PUT", OWN_MAIL, { email });

  /** The options are handed to the browser as they are. */
  keyOptions = () => this.#entry<{ data: { request_options: unknown } }>("GET", `${AUTH}/auth/webauthn/login`);
  signInByKey = (credential: unknown) => this.#entry("POST", `${AUTH}/auth/webauthn/login`, { credential });
  /** After the password, where she wanted both. */
  stepOptions = () =>
    this.#entry<{ data: { request_options: unknown } }>("GET", `${AUTH}/auth/webauthn/authenticate`);
  stepByKey = (credential: unknown) => this.#entry("POST", `${AUTH}/auth/webauthn/authenticate`, { credential });
  stepByCode = (code: string) => this.#entry("POST", `${AUTH}/auth/2fa/authenticate`, { code });
  spareCodes = () =>
    this.#auth<{ data: { unused_codes: string[] } }>("POST", `${AUTH}/account/authenticators/recovery-codes`);

  newKeyOptions = () =>
    this.#auth<{ data: { creation_options: unknown } }>("GET", `${AUTH}/account/authenticators/webauthn?passwordless`);
  addKey = (name: string, credential: unknown) =>
    this.#auth("POST", `${AUTH}/account/authenticators/webauthn?passwordless`, { name, credential });
  nameKey = (id: number, name: string) => this.#auth("PUT", `${AUTH}/account/authenticators/webauthn`, { id, name });
  removeKey = (id: number) =>
    this.#auth("DELETE", `${AUTH}/account/authenticators/webauthn`, { authenticators: [id] });
  async keys(): Promise<Heard<Key[]>> {
    const heard = await this.#auth<{ data: (Key & { type: string })[] }>("GET", `${AUTH}/account/authenticators`);
    return heard.ok ? { ok: true, body: heard.body.data.filter(({ type }) => type === "webauthn") } : heard;
  }

  newRecoveryCode = (password: string) =>
    this.#ask<"newRecoveryCode">("POST", "/api/me/recovery-code", { password });
  setPin = (pin: string, password: string) => this.#ask<"setPin">("PUT", "/api/me/pin", { pin, password });
  setSecondStep = (on: boolean, password: string) =>
    this.#ask<"setSecondStep">("PUT", "/api/me/second-step", { on, password });
  places = () => this.#ask<"seats">("GET", "/api/me/seats");
  endPlace = (id: number) => this.#ask<"endSeat">("DELETE", `/api/me/seats/${id}`);
  subscribe = (where: Where) => this.#ask<"subscribe">("PUT", "/api/me/push", where);
  unsubscribe = () => this.#ask<"unsubscribe">("DELETE", "/api/me/push");
  notices = (farm: string) => this.#ask<"notices">("GET", `${of(farm)}/notices`);
  chooseNotices = (farm: string, to: NoticeChoices) => this.#ask<"chooseNotices">("PUT", `${of(farm)}/notices`, to);
  tryNotice = (farm: string) => this.#ask<"tryNotice">("POST", `${of(farm)}/notices/try`);

  invitations = (farm: string) => this.#ask<"invitations">("GET", `${of(farm)}/invitations`);
  invite = (farm: string, place: Place) => this.#ask<"invite">("POST", `${of(farm)}/invitations`, place);
  newCode = (farm: string, id: string) =>
    this.#ask<"newInvitationCode">("POST", `${of(farm)}/invitations/${id}/code`);
  revoke = (farm: string, id: string) => this.#ask<"revokeInvitation">("DELETE", `${of(farm)}/invitations/${id}`);
  calendarLink = (farm: string) => this.#ask<"calendarLink">("GET", `${of(farm)}/calendar`);
  makeCalendarLink = (farm: string, by: Doors["makeCalendarLink"]["takes"]) =>
    this.#ask<"makeCalendarLink">("POST", `${of(farm)}/calendar`, by);
  revokeCalendarLink = (farm: string) => this.#ask<"revokeCalendarLink">("DELETE", `${of(farm)}/calendar`);
  members = (farm: string) => this.#ask<"members">("GET", `${of(farm)}/members`);
  changeMember = (farm: string, person: string, to: MemberChange) =>
    this.#ask<"changeMember">("PATCH", `${of(farm)}/members/${person}`, to);
  remove = (farm: string, person: string) => this.#ask<"removeMember">("DELETE", `${of(farm)}/members/${person}`);
  leave = (farm: string) => this.#ask<"leaveFarm">("POST", `${of(farm)}/leave`);
  /** The whole farm, as a file. */
  take(farm: string, password: string): Promise<Heard<Blob>> {
    const asked: At<"exportFarm"> = { ...request("POST", `${of(farm)}/export`, { password }), file: true };
    return this.#heard(this.#session.send({ ...asked, limit_ms: FILE_MS }));
  }
  /** A farm's file comes in by parts: whether it may come at all, each part, and the farm it becomes. */
  beginFarmFile = (password: string, bytes: number) =>
    this.#ask<"beginFarmFile">("POST", "/api/farm-file", { password, bytes });
  sendPart(file: string, number: number, part: Uint8Array<ArrayBuffer>): Promise<Heard<{ number: number }>> {
    const path = `/api/farm-file/${file}/parts/${number}` as const;
    const asked: At<"sendFarmFilePart"> = { method: "PUT", path, body: part, type: "application/zip" };
    return this.#heard(this.#session.sendAs(this.#on(), { ...asked, limit_ms: PART_MS }));
  }
  takeIn(file: string, name: string): Promise<Heard<Doors["takeInFarm"]["answer"]>> {
    const asked: At<"takeInFarm"> = request("POST", `/api/farm-file/${file}/take-in`, { name });
    return this.#heard(this.#session.sendAs(this.#on(), { ...asked, limit_ms: FILE_MS }));
  }
  erase = (farm: string, person: string, password: string) =>
    this.#ask<"erasePerson">("POST", `${of(farm)}/people/${encodeURIComponent(person)}/erase`, { password });
  close = (farm: string, name: string, password: string) =>
    this.#ask<"closeFarm">("POST", `${of(farm)}/close`, { name, password });
  setAside = (farm: string, after: number) => this.#ask<"setAside">("GET", `${of(farm)}/set-aside?after=${after}`);
  letIn = (farm: string, row: number) => this.#ask<"letIn">("POST", `${of(farm)}/set-aside/${row}/let-in`);
  leaveOut = (farm: string, row: number) => this.#ask<"dismiss">("POST", `${of(farm)}/set-aside/${row}/dismiss`);
  audit = (farm: string, before: number) => this.#ask<"audit">("GET", `${of(farm)}/audit?before=${before}`);

  #ask<D extends Name>(
    method: Doors[D]["method"], path: Doors[D]["path"], ...body: Body<D>
  ): Promise<Heard<Doors[D]["answer"]>> {
    return this.#heard(this.#session.sendAs(this.#on(), request(method, path, body[0])));
  }
  /** Open to whoever has not signed in. */
  #free<D extends Name>(
    method: Doors[D]["method"], path: Doors[D]["path"], ...body: Body<D>
  ): Promise<Heard<Doors[D]["answer"]>> {
    return this.#heard(this.#session.send(request(method, path, body[0])));
  }
  /** A door of whoever keeps the accounts. */
  #auth<T = unknown>(method: Call["method"], path: string, body?: unknown): Promise<Heard<T>> {
    return this.#heard(this.#session.sendAs(this.#on(), request(method, path, body)));
  }
  #entry<T = unknown>(method: Call["method"], path: string, body?: unknown): Promise<Heard<T>> {
    return this.#heard(this.#session.send(request(method, path, body)));
  }
  async #own(method: Call["method"], body?: { email: string }): Promise<Heard<OwnAddress[]>> {
    const heard = await this.#auth<{ data: OwnAddress[] }>(method, OWN_MAIL, body);
    return heard.ok ? { ok: true, body: heard.body.data } : heard;
  }
  #enter<D extends "signUp" | "acceptInvitation">(
    path: Doors[D]["path"], body: Doors[D]["takes"], as = "",
  ): Promise<Heard<Entered>> {
    return this.#heard(this.#session.enter(request("POST", path, body), as));
  }
  async #out(method: Call["method"], path: string, body: unknown): Promise<Heard<unknown>> {
    const heard = await this.#entry(method, path, body);
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

const of = (farm: string) => `/api/farms/${encodeURIComponent(farm)}` as const;

function request<M extends Call["method"], P extends string>(method: M, path: P, body?: unknown) {
  return { method, path, ...(body !== undefined && { body: JSON.stringify(body) }) };
}
