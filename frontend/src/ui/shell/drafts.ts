import { route } from "./router.svelte.ts";

/**
 * Half-typed words: what stands in the boxes of a form is kept on this phone until it is saved, through another tab, a
 * reload or a page that was killed. By person, since several share a phone; no password, and nothing older than a day.
 */
interface Draft {
  at: number;
  fields: Record<string, string>;
}
type Box = HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement;

const KEY = "mangerline.drafts";
const LONGEST_MS = 86_400_000;
const TYPED = ["text", "number", "date", "time", "tel", "search", ""];
/** A password that is shown is a text to the browser. */
const SECRET = /username|password|one-time-code/;
let person = (): string => "";

function all(): Record<string, Draft> {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) || "{}") as Record<string, Draft>;
    return Object.fromEntries(Object.entries(kept).filter(([, { at }]) => Date.now() - at < LONGEST_MS));
  } catch {
    return {};
  }
}
function put(drafts: Record<string, Draft>): void {
  try {
    localStorage.setItem(KEY, JSON.stringify(drafts));
  } catch {
    // a full phone keeps what was recorded before what was only begun
  }
}
const page = () => `${person()} ${route.parts.join("/")}`;

function isTyped(box: EventTarget | null): box is Box {
  if (!(box instanceof HTMLElement) || !box.id || !box.closest("main")) return false;
  return box instanceof HTMLTextAreaElement || box instanceof HTMLSelectElement ||
    (box instanceof HTMLInputElement && TYPED.includes(box.type) && !SECRET.test(box.autocomplete));
}

/** `who`: the person whose farm is shown, "" while none is. */
export function keepDrafts(who: () => string): void {
  person = who;
  document.addEventListener("input", ({ target }) => {
    if (isTyped(target)) keepChoice(target.id, target.value);
  });
}

/** What goes with a box and is no box itself: the unit a number was typed in. */
export function keepChoice(id: string, value: string): void {
  if (!person()) return;
  const drafts = all();
  const { fields } = drafts[page()] ?? { fields: {} };
  put({ ...drafts, [page()]: { at: Date.now(), fields: { ...fields, [id]: value } } });
}
export const keptChoice = (id: string): string => all()[page()]?.fields[id] ?? "";

/** Puts what was begun here back into its boxes. */
export function fillDraft(): void {
  for (const [id, value] of Object.entries(all()[page()]?.fields ?? {})) {
    const box = document.getElementById(id);
    if (!isTyped(box) || box.value === value) continue;
    box.value = value;
    box.dispatchEvent(new Event(box instanceof HTMLSelectElement ? "change" : "input", { bubbles: true }));
    box.closest("details")?.setAttribute("open", "");
  }
}

/** It was saved. */
export function dropDraft(): void {
  const { [page()]: gone, ...drafts } = all();
  if (gone) put(drafts);
}
