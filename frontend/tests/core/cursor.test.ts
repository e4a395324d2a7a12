import { expect, test } from "vitest";
import { further } from "../../src/core/phone/store/settle.ts";
import type { Changes } from "../../src/core/phone/sync/wire.ts";
import { json } from "../support/fake_server.ts";
import { kinds, score, setUp, twoScores } from "../support/farm.ts";

/** The server's word on a cursor goes back to it with that cursor, and with no other. */
const page = (seq: number, outlook_rev: number, signed?: string) => ({ seq, outlook_rev, signed }) as Changes;

test.each([
  [page(5, 5, "new"), { seq: 5, outlook_rev: 5, signed: "new" }],
  [page(3, 3, "held"), { seq: 3, outlook_rev: 3, signed: "held" }],
  [page(2, 3, "old"), { seq: 3, outlook_rev: 3, signed: "held" }],
  [page(5, 2, "mixed"), { seq: 5, outlook_rev: 3 }],
  [page(5, 5), { seq: 5, outlook_rev: 5 }],
])("of %j", (came, want) => {
  expect(further({ seq: 3, outlook_rev: 3, signed: "held" }, came)).toEqual(want);
});

test("it is kept over a restart, and goes out with what is sent and with what is asked", async () => {
  const { farm, server } = await twoScores();
  server.signed = (seq, rev) => `word+${seq}/${rev}`;
  await farm.sync();
  await score(farm).saved;
  await farm.sync();
  await farm.sync();
  const pushed = server.requests.filter(({ path }) => path.endsWith("/events"));
  expect(JSON.parse(pushed.at(-1)!.body)).toMatchObject({ cursor: { seq: 2, outlook_rev: 0, signed: "word+2/0" } });
  expect(server.requests.at(-1)!.path).toContain(`signed=${encodeURIComponent("word+3/0")}`);
});

test("a server of before signs nothing, and is asked as ever", async () => {
  const { farm, server } = await setUp();
  await farm.sync();
  await farm.sync();
  expect(server.requests.at(-1)!.path).toMatch(/changes\?seq=0&outlook_rev=0&epoch=1&limit=500$/);
});

test("a server that lacks what this phone has seen, and has no other epoch, is offered it again", async () => {
  const { farm, server } = await twoScores();
  await farm.sync();
  expect([server.log.length, kinds(farm)]).toEqual([2, []]);
  server.log = [];
  server.next.push(() => json(409, { code: "epoch", epoch: 1 }));
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect([server.log.length, kinds(farm), farm.status.kind]).toEqual([2, [], "sent"]);
});
