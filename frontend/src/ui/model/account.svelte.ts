import { Account } from "../../core/phone/sync/account.ts";
import type { Heard } from "../../core/phone/sync/account_shapes.ts";
import { has, t } from "../words/text.ts";
import { session } from "./session.svelte.ts";

/** All of this needs a signal: nothing of it waits on the phone. */
export const account = new Account(session.door.session, () => session.door.person?.id ?? "");

/**
 * In by another door than a name and a password. On a shared phone the farm of who was on before has gone on sending
 * meanwhile, under her own name.
 */
export async function entered(person: string, farm = ""): Promise<void> {
  const { door } = session;
  if (door.session.facts?.person?.id !== person) await door.session.take(person);
  if ((await door.signedIn()) && door.person?.id === person) await session.in(farm);
}

/** On that farm no more, by her own doing. What hears of it by itself has closed it by then. */
export async function left(farm: string): Promise<void> {
  await session.farm?.sync();
  // She need not be told what she has just done; only what could not be handed in.
  const known = session.door.notices.filter(({ what, farm: of, n }) => what === "removed" && of === farm && !n);
  for (const notice of known) session.dismiss(notice);
  if (session.farmId !== farm) return;
  session.close();
  await session.door.signedIn();
  location.hash = "#/";
  session.stage = "farms";
}

const MINUTE_MS = 60_000;

/** What went wrong, and what to do about it. */
export function saidOf({ code, where, after_ms }: { code: string; where: string; after_ms: number }): string {
  const minutes = Math.max(1, Math.ceil(after_ms / MINUTE_MS));
  const [field, plain] = [`acc.${code}.${where}`, `acc.${code}`];
  return t(has(field) ? field : has(plain) ? plain : "acc.failed", { n: minutes });
}

/** One thing that is asked of the server by a page: whether it is under way, what was wrong, and where. */
export class Asking {
  busy = $state(false);
  bad = $state("");
  code = $state("");
  where = $state("");
  /** The password is wanted first: whoever was put on by a tap has proved nothing yet. */
  wanted = $state(false);
  #proved: ((given: boolean) => void) | null = null;

  async ask<T>(act: () => Promise<Heard<T>>): Promise<T | null> {
    this.busy = true;
    this.clear();
    let heard = await act();
    if (!heard.ok && heard.code === "password_needed" && (await this.#proof())) heard = await act();
    this.busy = false;
    if (heard.ok) return heard.body ?? ({} as T);
    [this.bad, this.code, this.where] = [saidOf(heard), heard.code, heard.where];
    return null;
  }

  clear(): void {
    [this.bad, this.code, this.where] = ["", "", ""];
  }

  say(key: string, where = ""): void {
    [this.bad, this.code, this.where] = [t(key), key, where];
  }

  /** Says whether it was right; what was begun then goes on. */
  async prove(password: string): Promise<boolean> {
    const heard = await account.reauthenticate(password);
    this.bad = heard.ok ? "" : saidOf(heard);
    if (heard.ok) this.#end(true);
    return heard.ok;
  }

  stop(): void {
    this.#end(false);
  }

  #proof(): Promise<boolean> {
    this.wanted = true;
    return new Promise((resolve) => (this.#proved = resolve));
  }

  #end(given: boolean): void {
    this.wanted = false;
    this.#proved?.(given);
    this.#proved = null;
  }
}
