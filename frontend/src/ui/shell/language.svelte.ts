import { browserEnv } from "../../core/base/env.ts";
import { dataFile } from "../../core/phone/sync/data.ts";
import { CODES, LANGUAGES, type Language } from "../../texts/languages.ts";
import { callFlakes, markOf, speak, type Texts } from "../words/text.ts";

const KEY = "mangerline.language";

/** The language that is spoken; "" until its words are there. The screens are drawn anew when it changes. */
class Speech {
  now = $state<Language | "">("");
  /** This farm's own word for a flake of hay; "" for the usual one. */
  flake = $state("");

  /**
   * The chosen language or the phone's own; the first of all if that one cannot be had. Says whether there are words.
   */
  async start(): Promise<boolean> {
    const kept = localStorage.getItem(KEY);
    const wished = [kept ?? "", ...navigator.languages.map((locale) => locale.slice(0, 2))];
    const first = wished.find((code) => CODES.includes(code as Language)) as Language | undefined;
    return (await this.#take(first ?? CODES[0]!)) || this.#take(CODES[0]!);
  }

  /** Says false, and changes nothing, when its words cannot be had just now. */
  async choose(code: Language): Promise<boolean> {
    if (!(await this.#take(code))) return false;
    localStorage.setItem(KEY, code);
    return true;
  }

  /** What is shown is drawn anew where the word is another. */
  callsFlakes(word: string): void {
    if (word === this.flake) return;
    callFlakes(word);
    this.flake = word;
  }

  async #take(code: Language): Promise<boolean> {
    const { url, names } = LANGUAGES[code];
    const parts = await Promise.all([url, names].filter(Boolean).map((file) => dataFile(browserEnv(), file)));
    if (!parts.every(isTexts)) return false;
    // The phone may write Spanish as Mexico does: its own locale says which decimal mark.
    const locale = navigator.languages.find((each) => each.slice(0, 2) === code) ?? code;
    speak(Object.assign({}, ...parts), locale, keptMark(locale));
    callFlakes(this.flake);
    document.documentElement.lang = code;
    this.now = code;
    return true;
  }
}

/** To ask for it takes a phone as long as drawing half the list, and it does not change. */
function keptMark(locale: string): string {
  const key = `mangerline.mark.${locale}`;
  const kept = localStorage.getItem(key) ?? markOf(locale);
  localStorage.setItem(key, kept);
  return kept;
}

/** One of them stands for all: to look at each takes longer than to read the file. */
function isTexts(data: unknown): data is Texts {
  return typeof data === "object" && data !== null && typeof Object.values(data)[0] === "string";
}

export const speech = new Speech();
