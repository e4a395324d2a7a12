export type Args = Record<string, string | number>;
export type Texts = Record<string, string>;

let texts: Texts = {};
let mark = ".";

/** From here on every sentence is taken from this catalogue, and numbers have the decimal mark of this locale. */
export function speak(catalogue: Texts, locale: string, decimalMark = markOf(locale)): void {
  mark = decimalMark;
  texts = Object.fromEntries(Object.entries(catalogue).map(([key, text]) => [key, marked(text)]));
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

/** The sentence for a key. {name} takes an argument; {name?one:many} picks by whether the argument is exactly 1. */
export function t(key: string, args: Args = {}): string {
  const text = texts[key];
  if (text === undefined) return key;
  return text.replace(/\{(\w+)(?:\?([^:}]*):([^}]*))?\}/g, (_, name: string, one?: string, many?: string) => {
    const value = args[name];
    if (many !== undefined) return Number(value) === 1 ? (one ?? "") : many;
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
