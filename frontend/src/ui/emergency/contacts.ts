import { inOrder, nameOf } from "../model/herd.ts";
import type { RecordRow, View } from "../model/shapes.ts";

const ROLES = ["vet", "second_vet", "owner", "family", "neighbour", "other"];
export const roleOf = (row: RecordRow) => String(row.f["role"] ?? "other");
export const phoneOf = (row: RecordRow) => String(row.f["phone"] ?? "").trim();
export const isVet = (row: RecordRow) => roleOf(row).endsWith("vet");

/** Whom to ring, vets first; a number nobody has given is no number. */
export function contacts(view: View): RecordRow[] {
  const rank = (row: RecordRow) => ROLES.indexOf(roleOf(row));
  return Object.values(view.contacts).filter((row) => nameOf(row)).sort((a, b) => rank(a) - rank(b) || inOrder(a, b));
}

/** Who can be rung; twice, while two numbers of one were written apart and nobody has said which is right. */
export function rung(view: View): RecordRow[] {
  return contacts(view).flatMap((row) => {
    const asked = view.questions.find(({ subject, field }) => subject === row.id && field === "phone");
    const said = (asked?.values ?? []).map(({ value }) => ({ ...row, f: { ...row.f, phone: value } }));
    return [...new Map([row, ...said].map((one) => [phoneOf(one), one])).values()];
  }).filter(phoneOf);
}

/** Only what a phone dials. */
export const dial = (row: RecordRow) => `tel:${phoneOf(row).replace(/[^\d+*#]/g, "")}`;
