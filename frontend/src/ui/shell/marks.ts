import type { Env } from "../../core/base/env.ts";

const HAND = "mangerline.hand.";
const MARKS = "mangerline.waits";
const COOKIE_S = 400 * 86_400;
const COOKIE_MOST = 3_000;

function stored(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

/** Storage that refuses altogether has nothing of it. */
function store(key: string, text: string): void {
  try {
    if (text) localStorage.setItem(key, text);
    else localStorage.removeItem(key);
  } catch {
    // The cookie has the marks, and the database has to be quick enough for the hand.
  }
}

/** Twice: a browser that empties one of them often leaves the other. */
function readMarks(): string {
  const cookie = document.cookie.split("; ").find((each) => each.startsWith(`${MARKS}=`));
  return stored(MARKS) ?? decodeURIComponent(cookie?.slice(MARKS.length + 1) ?? "");
}

function writeMarks(text: string): void {
  const cookie = encodeURIComponent(text);
  const kept_s = text && cookie.length <= COOKIE_MOST ? COOKIE_S : 0;
  document.cookie = `${MARKS}=${kept_s ? cookie : ""}; path=/; max-age=${kept_s}; samesite=strict`;
  store(MARKS, text);
}

export const pageHand: Env["hand"] = {
  read: (at) => stored(HAND + at) ?? "",
  write: (at, text) => store(HAND + at, text),
  going: (run) => {
    addEventListener("pagehide", run);
    return () => removeEventListener("pagehide", run);
  },
};

export const pageMarks: Env["marks"] = { read: readMarks, write: writeMarks };
