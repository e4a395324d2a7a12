/** Codes are made of these: nothing that is taken for something else on paper. */
const LETTERS = "ACDEFGHJKMNPQRTWXY34679";
export const INVITATION = 8;
export const RECOVERY = 20;
const GROUP = 4;

/** However it was typed: small letters, spaces, dashes. */
export function tidy(typed: string): string {
  return [...typed.normalize("NFKC").toUpperCase()].filter((letter) => /[\p{L}\p{N}]/u.test(letter)).join("");
}

/** In fours, to be read beside the paper. */
export function grouped(typed: string, most = INVITATION): string {
  return (tidy(typed).slice(0, most).match(new RegExp(`.{1,${GROUP}}`, "gu")) ?? []).join("-");
}

/** The first letter that stands in no code, as it was typed; "" where there is none. */
export function strange(typed: string): string {
  return [...tidy(typed)].find((letter) => !LETTERS.includes(letter)) ?? "";
}

/** Why it cannot be sent yet, as the key of a sentence; "" where it can. */
export function faultOf(typed: string, length: number): "" | "code.strange" | "code.short" {
  if (strange(typed)) return "code.strange";
  return tidy(typed).length === length ? "" : "code.short";
}
