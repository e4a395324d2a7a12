import en from "./en.json?url";

/** Each language's catalogue is a file beside the bundle. `name` is said in the language itself. */
export const LANGUAGES = {
  en: { name: "English", url: en },
} as const;

export type Language = keyof typeof LANGUAGES;
export const CODES = Object.keys(LANGUAGES) as Language[];
