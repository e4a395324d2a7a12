import { expect, test } from "vitest";
import { empty } from "../../src/core/state/empty.ts";
import { phoneOf, rung } from "../../src/ui/emergency/contacts.ts";

const row = (id: string, f: Record<string, string>) => ({ id, f, stamp: {}, by: {} });
const asked = (subject: string, field: string, ...said: string[]) =>
  ({ kind: "field", subject, field, values: said.map((value) => ({ value, stamp: "", ev: value })) });
const farm = { ...empty(), contacts: {
  kin: row("kin", { name: "Maud", role: "family", phone: "0300" }),
  vet: row("vet", { name: "Dr Quill", role: "vet", phone: "0200" }),
  none: row("none", { name: "Nobody", role: "other", phone: " " }),
} };

test("of two numbers written apart both are rung, the one that counts first, and only until it is settled", () => {
  const questions = [asked("vet", "phone", "0100", "0200")];
  expect(rung({ ...farm, questions }).map(phoneOf)).toEqual(["0200", "0100", "0300"]);
  expect(rung(farm).map(phoneOf)).toEqual(["0200", "0300"]);
});

test("one number typed with a space behind it is one number", () => {
  const questions = [asked("vet", "phone", "0200 ", "0200")];
  expect(rung({ ...farm, questions }).map(phoneOf)).toEqual(["0200", "0300"]);
});

test("another question about somebody adds no number", () => {
  const questions = [asked("vet", "name", "Dr Quill", "Dr Moss")];
  expect(rung({ ...farm, questions }).map(phoneOf)).toEqual(["0200", "0300"]);
});
