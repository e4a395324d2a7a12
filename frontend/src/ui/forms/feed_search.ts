import type { View } from "../model/shapes.ts";
import type { Option } from "./fields.ts";

/** Found whatever the case and the accents: "nucleo" finds "Núcleo". */
export const plain = (text: string) =>
  text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().trim();
export const sameText = (a: string, b: string) => plain(a) === plain(b);

const MOST = 12;

/** Every word typed is somewhere in the name; names that begin with it first. */
export function matching(options: Option[], text: string): Option[] {
  const words = plain(text).split(/\s+/);
  const named = options.map((one) => ({ one, name: plain(one.label) }));
  const found = named.filter(({ name }) => words.every((word) => name.includes(word)));
  const first = ({ name }: { name: string }) => (name.startsWith(words[0]!) ? 0 : 1);
  return found.sort((a, b) => first(a) - first(b)).slice(0, MOST).map(({ one }) => one);
}

/** What is on the farm: its own, and what of the book is in a bowl or was fed of late; the latest first. */
export function used(
  options: Option[], { lots, feeds, rations, feedings }: Pick<View, "lots" | "feeds" | "rations" | "feedings">,
): Option[] {
  const fed = feedings.flatMap(({ lines }) => lines.map(([, feed]) => feed)).reverse();
  const lately = [...new Set([...fed, ...Object.values(rations).map(({ feed }) => feed)])];
  const place = ({ value }: Option) => {
    const at = lately.indexOf(value);
    return at >= 0 ? at : lots[value] || feeds[value] ? lately.length : Infinity;
  };
  return options.filter((one) => place(one) < Infinity).sort((a, b) => place(a) - place(b));
}

export function byKind(options: Option[]): [kind: string, items: Option[]][] {
  const kinds = new Map<string, Option[]>();
  for (const one of options) kinds.set(one.group ?? "", [...(kinds.get(one.group ?? "") ?? []), one]);
  return [...kinds];
}
