import { expect, test } from "vitest";
import { Photos } from "../../src/core/phone/store/photos.ts";
import { TestPhone } from "../support/phone.ts";

test("a picture is kept for its scoop and its farm on this phone, and goes when it is taken away", async () => {
  const env = new TestPhone().env();
  const [here, there] = [new Photos("farm-1", env), new Photos("farm-2", env)];
  await here.keep("scoop", "data:image/jpeg;base64,AAAA");
  here.close();
  const again = new Photos("farm-1", env);
  expect(await again.of("scoop")).toBe("data:image/jpeg;base64,AAAA");
  expect([await again.of("another"), await there.of("scoop")]).toEqual([undefined, undefined]);
  await again.drop("scoop");
  expect(await again.of("scoop")).toBeUndefined();
});
