import { expect, test } from "vitest";
import { DOE, doe, kinds, openFarm, score, setUp } from "../support/farm.ts";

/** The tap has been painted and its frame is not over: storage has not been asked yet. */
const never = () => new Promise<void>(() => undefined);

test("what is recorded in the moment the page goes is there when the app opens again, and is sent once", async () => {
  const { phone, server, farm } = await setUp();
  await doe(farm).saved;
  await farm.sync();
  const hurried = await openFarm(phone, { env: phone.env({ drawn: never }) });
  score(hurried, 325);
  phone.goes.forEach((goes) => goes());
  hurried.close();

  const again = await openFarm(phone);
  expect(again.view.does[DOE]!.scores.map(([, x100]) => x100)).toEqual([325]);
  expect(await again.sync()).toEqual({ kind: "done" });
  expect([server.log.map(({ ev }) => ev.kind), phone.hand]).toEqual([["doe", "score"], ""]);
  again.close();
  expect(kinds(await openFarm(phone))).toEqual([]);
});

test("what storage got after all is not there twice, and what comes after has a later stamp", async () => {
  const { phone, server, farm } = await setUp();
  await doe(farm).saved;
  const saved = score(farm, 325).saved;
  phone.goes.forEach((goes) => goes());
  await saved;
  farm.close();
  phone.now_ms -= 60_000;
  const again = await openFarm(phone);
  await score(again, 350).saved;
  expect(again.view.does[DOE]!.scores).toHaveLength(2);
  await again.sync();
  const stamps = server.log.map(({ ev }) => ev.hlc);
  expect([stamps.length, new Set(stamps).size]).toEqual([3, 3]);
  expect([...stamps].sort()).toEqual(stamps);
});

test("nothing is put down when nothing is in the hand", async () => {
  const { phone, farm } = await setUp();
  await doe(farm).saved;
  phone.goes.forEach((goes) => goes());
  expect(phone.hand).toBe("");
});

test("a farm that is closed puts nothing down any more", async () => {
  const { phone, farm } = await setUp();
  await doe(farm).saved;
  const hurried = await openFarm(phone, { env: phone.env({ drawn: never }) });
  score(hurried, 325);
  hurried.close();
  farm.close();
  expect(phone.goes.size).toBe(0);
});
