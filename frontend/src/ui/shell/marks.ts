import type { Env } from "../../core/base/env.ts";

const MARKS = "mangerline.waits";
const COOKIE_S = 400 * 86_400;
const COOKIE_MOST = 3_000;

/** Twice: a browser that empties one of them often leaves the other. */
function readMarks(): string {
  const cookie = document.cookie.split("; ").find((each) => each.startsWith(`${MARKS}=`));
  try {
    return localStorage.getItem(MARKS) ?? decodeURIComponent(cookie?.slice(MARKS.length + 1) ?? "");
  } catch {
    return decodeURIComponent(cookie?.slice(MARKS.length + 1) ?? "");
  }
}

function writeMarks(text: string): void {
  const cookie = encodeURIComponent(text);
  const kept_s = text && cookie.length <= COOKIE_MOST ? COOKIE_S : 0;
  document.cookie = `${MARKS}=${kept_s ? cookie : ""}; path=/; max-age=${kept_s}; samesite=strict`;
  try {
    if (text) localStorage.setItem(MARKS, text);
    else localStorage.removeItem(MARKS);
  } catch {
    // Storage that refuses altogether: the cookie has it.
  }
}

const HAND = "mangerline.hand.";

export const pageHand: Env["hand"] = {
  read: (at) => {
    try {
      return localStorage.getItem(HAND + at) ?? "";
    } catch {
      return "";
    }
  },
  write: (at, text) => {
    try {
      if (text) localStorage.setItem(HAND + at, text);
      else localStorage.removeItem(HAND + at);
    } catch {
      // Storage that refuses: the database has to be quick enough.
    }
  },
  going: (run) => addEventListener("pagehide", run),
};

export const pageMarks: Env["marks"] = { read: readMarks, write: writeMarks };
