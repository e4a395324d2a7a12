import type { Env } from "../../core/base/env.ts";
import { wipe_person, type Left } from "../../core/phone/store/wipe.ts";
import { SHARED } from "./shared.ts";

/** What is of the phone and of nobody's farm: how it looks, speaks and is held, and whom it owes a word. */
const OF_THE_PHONE = new Set(
  ["language", "theme", "glove", "awake", "first_round", "waits", "leaving"].map((key) => `mangerline.${key}`),
);
const BY_PERSON = ["mangerline.drafts", "mangerline.set_up"];

/** Somebody signs out: her farms go, and her words kept beside the database. `alone`: nobody else uses the phone. */
export async function forgetPerson(env: Env, left: Left, keep_waiting: boolean, alone: boolean): Promise<void> {
  await wipe_person(env, left, keep_waiting);
  forgetWords(left.person, alone);
}

function forgetWords(person: string, everything: boolean): void {
  sessionStorage.clear();
  if ("caches" in globalThis) void caches.delete(SHARED);
  for (const key of Object.keys(localStorage)) {
    if (key.startsWith("mangerline.hand.") && key.includes(person)) localStorage.removeItem(key);
    if (everything && key.startsWith("mangerline.") && !isOfThePhone(key)) localStorage.removeItem(key);
  }
  for (const key of BY_PERSON) forgetHers(key, person);
}

function isOfThePhone(key: string): boolean {
  return OF_THE_PHONE.has(key) || key.startsWith("mangerline.mark.");
}

function forgetHers(key: string, person: string): void {
  try {
    const all = Object.entries(JSON.parse(localStorage.getItem(key) ?? "{}") as Record<string, unknown>);
    const others = all.filter(([of]) => !of.startsWith(`${person} `));
    if (others.length < all.length) localStorage.setItem(key, JSON.stringify(Object.fromEntries(others)));
  } catch {
    localStorage.removeItem(key);
  }
}
