import cards_en from "./cards.en.json?url";
import en from "./en.json?url";

/** Each language's catalogue and its emergency cards are files beside the bundle. `name` is said in the language itself. */
export const LANGUAGES = {
  en: { name: "English", url: en, cards: cards_en },
} as const;

export type Language = keyof typeof LANGUAGES;
export const CODES = Object.keys(LANGUAGES) as Language[];
