import catalogue from "../texts/en.json";

const texts = catalogue as Record<string, string>;
export type Args = Record<string, string | number>;

export function has(key: string): boolean {
  return Object.hasOwn(texts, key);
}

/** The sentence for a key. {name} takes an argument; {name?one:many} picks by whether the argument is exactly 1. */
export function t(key: string, args: Args = {}): string {
  const text = texts[key];
  if (text === undefined) return key;
  return text.replace(/\{(\w+)(?:\?([^:}]*):([^}]*))?\}/g, (_, name: string, one?: string, many?: string) => {
    const value = args[name];
    return many === undefined ? String(value ?? "") : Number(value) === 1 ? (one ?? "") : many;
  });
}
