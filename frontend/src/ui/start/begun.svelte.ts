import { session } from "../model/session.svelte.ts";

/**
 * What was answered while a farm is set up and is no entry yet: kept on this phone, so that a reload or a killed page
 * goes on where it was. By person and farm, since several share a phone.
 */
type Said = Record<string, string>;

const KEY = "mangerline.set_up";

function read(): Record<string, Said> {
  try {
    return JSON.parse(localStorage.getItem(KEY) || "{}") as Record<string, Said>;
  } catch {
    return {};
  }
}

class Begun {
  #all = $state.raw(read());

  get #mine(): string {
    return `${session.farm?.person ?? ""} ${session.farmId}`;
  }
  said(key: string): string {
    return this.#all[this.#mine]?.[key] ?? "";
  }
  put(said: Said): void {
    this.#keep({ ...this.#all[this.#mine], ...said });
  }
  forget(...keys: string[]): void {
    const { ...said } = this.#all[this.#mine];
    for (const key of keys) delete said[key];
    this.#keep(said);
  }
  #keep(said: Said): void {
    this.#all = { ...this.#all, [this.#mine]: said };
    try {
      localStorage.setItem(KEY, JSON.stringify(this.#all));
    } catch {
      // a full phone keeps what was recorded before what was only begun
    }
  }
}

export const begun = new Begun();
