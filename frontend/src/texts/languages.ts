import cards_en from "./cards.en.json?url";
import cards_es from "./cards.es.json?url";
import en from "./en.json?url";
import es from "./es.json?url";
import feeds_es from "./feeds.es.json?url";

/**
 * Each language's catalogue and its emergency cards are files beside the bundle. `name` is said in the language itself.
 * `feeds` names the feeds of the book by their English names, which are the book's own.
 */
export const LANGUAGES = {
  en: { name: "English", url: en, cards: cards_en, feeds: "" },
  es: { name: "Español", url: es, cards: cards_es, feeds: feeds_es },
} as const;

export type Language = keyof typeof LANGUAGES;
export const CODES = Object.keys(LANGUAGES) as Language[];
