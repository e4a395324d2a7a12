import { expect, test } from "vitest";
import { dataFile } from "../../src/core/phone/sync/data.ts";
import { TestPhone } from "../support/phone.ts";

const from = (answer: () => Promise<Response>) => dataFile(new TestPhone().env({ fetch: answer }), "/assets/en.json");

test("a data file is handed out as it stands", async () => {
  expect(await from(async () => Response.json({ back: "Back" }))).toEqual({ back: "Back" });
});

test.each([
  ["no signal", () => Promise.reject(new TypeError("no signal"))],
  ["a portal's page", async () => new Response("<html>Sign in to the barn's network</html>")],
  ["a file the server no longer has", async () => new Response("gone", { status: 404 })],
])("%s gives nothing", async (_, answer) => {
  expect(await from(answer)).toBeNull();
});

test("a line that never answers is given up", async () => {
  let late = () => {};
  const never = (_: string, { signal }: RequestInit) =>
    new Promise<Response>((_done, fail) => signal!.addEventListener("abort", () => fail(new Error("aborted"))));
  const env = new TestPhone().env({ fetch: never, setTimer: (run) => (late = run), clearTimer: () => undefined });
  const asked = dataFile(env, "/assets/en.json");
  late();
  expect(await asked).toBeNull();
});
