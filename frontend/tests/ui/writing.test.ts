import { expect, test } from "vitest";
import { onlyWrites } from "../../src/ui/shell/writing.ts";

/** Pages an adviser is sent away from, and those she reads. */
test.each([
  ["doe/1/record", true], ["doe/1/score", true], ["doe/1/edit", true], ["doe/1", false], ["doe/1/off", false],
  ["doe/1/why/me", false], ["doe/1/records", false], ["pen/1/fed", true], ["ration/1", true], ["shelf/bloat/new", true],
  ["setup/hay", true], ["farm/lots/new", true], ["farm/lots/1", false], ["farm/lots/1/flake", true],
  ["farm/lots/1/weights", false], ["farm/people/invite/helper", false], ["farm/order", true], ["", false],
  ["emergency/bloat/1", false], ["questions", false], ["farm/card/water", true], ["farm", false],
  ["farm/me/notices", true], ["farm/me/pin", false],
])("%s: %s", (address, only) => {
  expect(onlyWrites(address.split("/"))).toBe(only);
});
