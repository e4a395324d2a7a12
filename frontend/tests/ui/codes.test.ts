import { expect, test } from "vitest";
import { faultOf, grouped, INVITATION, RECOVERY, strange, tidy } from "../../src/ui/joining/code.ts";
import { isPin } from "../../src/ui/me/pin.ts";

test.each(["ACDE-FGHJ", "acde fghj", " a c d e—f g h j ", "ａｃｄｅfghj", "acde.fghj"])(
  "%s is the same code however it was typed",
  (typed) => {
    expect(tidy(typed)).toBe("ACDEFGHJ");
    expect(grouped(typed)).toBe("ACDE-FGHJ");
    expect(faultOf(typed, INVITATION)).toBe("");
  },
);

test("a letter that stands in no code is named, before anybody is asked", () => {
  expect(strange("acde 0gh")).toBe("0");
  expect(strange("ACDEFGHJ")).toBe("");
  expect(faultOf("ACDEFGHO", INVITATION)).toBe("code.strange");
});

test("too few and too many are said", () => {
  expect(faultOf("ACDE", INVITATION)).toBe("code.short");
  expect(faultOf("ACDEFGHJK", INVITATION)).toBe("code.short");
  expect(faultOf("", RECOVERY)).toBe("code.short");
  expect(grouped("acdefghjkmnpqrtwxy34xx", RECOVERY)).toBe("ACDE-FGHJ-KMNP-QRTW-XY34");
});

test("a PIN is four to six digits and nothing else", () => {
  expect(["1234", "123456"].every(isPin)).toBe(true);
  expect(["", "123", "1234567", "12 4", "12a4", "１２３４"].some(isPin)).toBe(false);
});
