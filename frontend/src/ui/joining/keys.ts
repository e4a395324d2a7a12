import {
  browserSupportsWebAuthn, startAuthentication, startRegistration, WebAuthnError,
} from "@simplewebauthn/browser";
import type { Heard } from "../../core/phone/sync/account_shapes.ts";
import { account } from "../model/account.svelte.ts";

export const hasKeys = browserSupportsWebAuthn;
type Options<T extends (asked: never) => unknown> = Parameters<T>[0] extends { optionsJSON: infer O } ? O : never;

/** Sign-in by a passkey of this phone: whoever it belongs to is on afterwards. */
export const signInByKey = () => showKey(account.keyOptions, account.signInByKey);
/** The same after the password, where she wanted both. */
export const stepByKey = () => showKey(account.stepOptions, account.stepByKey);

async function showKey(
  options: typeof account.keyOptions, send: (made: unknown) => Promise<Heard<unknown>>,
): Promise<Heard<unknown>> {
  const heard = await options();
  if (!heard.ok) return heard;
  const optionsJSON = inside(heard.body.data.request_options) as Options<typeof startAuthentication>;
  return withKey(() => startAuthentication({ optionsJSON }), send);
}

export async function addKey(name: string): Promise<Heard<unknown>> {
  const heard = await account.newKeyOptions();
  if (!heard.ok) return heard;
  const optionsJSON = inside(heard.body.data.creation_options) as Options<typeof startRegistration>;
  return withKey(() => startRegistration({ optionsJSON }), (made) => account.addKey(name, made));
}

const inside = (options: unknown): unknown => (options as { publicKey: unknown }).publicKey;

async function withKey<T>(ask: () => Promise<T>, send: (made: T) => Promise<Heard<unknown>>): Promise<Heard<unknown>> {
  let made: T;
  try {
    made = await ask();
  } catch (error) {
    const known = error instanceof WebAuthnError && error.code === "ERROR_AUTHENTICATOR_PREVIOUSLY_REGISTERED";
    return { ok: false, code: known ? "key_here" : "key_stopped", where: "", after_ms: 0 };
  }
  return send(made);
}
