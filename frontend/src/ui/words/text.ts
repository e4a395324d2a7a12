export type Args = Record<string, string | number>;
export type Texts = Record<string, string>;

let texts: Texts = {};
let mark = ".";
let language = "en";
let plural: Intl.PluralRules | null = null;
/** What farms call differently, as the catalogue says it. */
let called: [key: string, text: string][] = [];

/** From here on every sentence is taken from this catalogue, and numbers have the decimal mark of this locale. */
export function speak(catalogue: Texts, locale: string, decimalMark = markOf(locale)): void {
  [mark, language, plural] = [decimalMark, locale.slice(0, 2), null];
  texts = Object.fromEntries(Object.entries(catalogue).map(([key, text]) => [key, marked(text)]));
  called = Object.entries(texts).filter(([, text]) => text.includes("["));
  callFlakes("");
}

/** A text is written with decimal points and read with the mark of the phone's locale: a limit of 1.6 as 1,6. */
export function marked(text: string): string {
  return mark === "." ? text : text.replace(/(\d)\.(?=\d)/g, `$1${mark}`);
}

export function markOf(locale: string): string {
  return new Intl.NumberFormat(locale).formatToParts(0.5).find(({ type }) => type === "decimal")?.value ?? ".";
}

export function has(key: string): boolean {
  return Object.hasOwn(texts, key);
}

/** The words a language has for a flake of hay: one, several, its gender, and several where a button is narrow. */
function flakeWords(): string[][] {
  return (texts["flake.words"] ?? "").split(" ").filter(Boolean).map((word) => word.split(":"));
}
export const flakeNames = (): string[] => flakeWords().map(([one]) => one!);

/** From here on a flake goes by this farm's own word. In a text: [flake], [flakes], and [un|una] by its gender. */
export function callFlakes(name: string): void {
  const words = flakeWords();
  const [one, many, gender, narrow] = words.find(([one]) => one === name) ?? words[0] ?? [];
  const forms: Texts = { flake: one ?? "", flakes: many ?? "", "flakes-": narrow ?? many ?? "" };
  const said = (_: string, word: string, her?: string) => {
    if (her !== undefined) return gender === "m" ? word : her;
    const form = forms[word.toLowerCase()] ?? "";
    return /^[A-Z]/.test(word) ? form.charAt(0).toUpperCase() + form.slice(1) : form;
  };
  for (const [key, text] of called) texts[key] = text.replace(/\[([^\]|]*)(?:\|([^\]]*))?\]/g, said);
}

const ORDER: Intl.LDMLPluralRule[] = ["zero", "one", "two", "few", "many", "other"];

/**
 * The form that goes with a count, by the platform's own rules: a text holds them in the order above, those its
 * language has, the last for all others. A part of one is said as one: "½ flake".
 */
function formOf(count: number, forms: string[]): string {
  plural ??= new Intl.PluralRules(language);
  const { pluralCategories } = plural.resolvedOptions();
  const category = plural.select(count > 0 && count < 1 ? 1 : count);
  return forms[ORDER.filter((one) => pluralCategories.includes(one)).indexOf(category)] ?? forms.at(-1)!;
}

/** The sentence for a key. {name} takes an argument; {name?one:many} picks by how many the argument is. */
export function t(key: string, args: Args = {}): string {
  const text = texts[key];
  if (text === undefined) return key;
  return text.replace(/\{(\w+)(?:\?([^}]*))?\}/g, (_, name: string, forms?: string) => {
    const value = args[name];
    if (forms !== undefined) return formOf(Number(value), forms.split(":"));
    return typeof value === "number" ? String(value).replace(".", mark) : (value ?? "");
  });
}

/** One, two and three. */
export function in_a_row(words: string[]): string {
  const last = words.at(-1) ?? "";
  return words.length > 1 ? t("act.and", { first: words.slice(0, -1).join(", "), last }) : last;
}

/** A number as the reader writes it: rounded, without idle noughts unless `fixed`. */
export function decimal(value: number, digits: number, fixed = false): string {
  const rounded = value.toFixed(digits);
  return (fixed ? rounded : String(Number(rounded))).replace(".", mark);
}
