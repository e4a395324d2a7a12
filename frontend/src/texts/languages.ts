import cards_en from "./cards.en.json?url";
import cards_es from "./cards.es.json?url";
import en from "./en.json?url";
import es from "./es.json?url";
import names_es from "./names.es.json?url";

/**
 * Each language's catalogue and its emergency cards are files beside the bundle. `name` is said in the language itself.
 * `names` says in it what the book and the reference name in English, first of all the feeds.
 */
export const LANGUAGES = {
  en: { name: "English", url: en, cards: cards_en, names: "" },
  es: { name: "Español", url: es, cards: cards_es, names: names_es },
} as const;

export type Language = keyof typeof LANGUAGES;
export const CODES = Object.keys(LANGUAGES) as Language[];
