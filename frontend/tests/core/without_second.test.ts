import { expect, test, vi } from "vitest";
import type * as Bring from "../../src/core/phone/bring.ts";
import { DOE, doe, openFarm, PEN, setUp } from "../support/farm.ts";

/** The second script is not on the phone, and the network does not give it either. */
const second = vi.hoisted(() => ({ lost: false }));
vi.mock("../../src/core/phone/bring.ts", async (original) => {
  const { NoSecond, bring, brought } = await original<typeof Bring>();
  const lost = () => Promise.reject(new NoSecond());
  return { NoSecond, bring: () => (second.lost ? lost() : bring()), brought: () => (second.lost ? null : brought()) };
});

test("without the second script a tap is seen, stored and kept, and goes out when the script is there", async () => {
  const { phone, server, farm } = await setUp();
  await doe(farm).saved;
  await farm.record("pen", PEN, { f: { name: "Lean-to" }, base: {} }).saved;
  await farm.sync();
  await farm.keepPicture("2026-11-02", {}, {});
  farm.close();

  second.lost = true;
  const early = await openFarm(phone, { early: true });
  const told = { how: "refused", left_pct: 0, feed: "", fed: "" };
  const first = early.record("intake", DOE, told, { slot: "morning" });
  await expect(early.complete()).rejects.toThrow();
  const lines = [{ to: "", feed: "hay", g: 900 }];
  const then = early.record("fed", PEN, { lines, adds: false }, { slot: "evening" });
  await Promise.all([first.saved, then.saved]);
  await expect(early.sync()).rejects.toThrow();
  expect([early.view.intakes.length, early.view.feedings.length]).toEqual([1, 1]);
  expect(early.status).toMatchObject({ kind: "waiting", n: 2 });
  expect(early.events(() => true).map(({ kind }) => kind)).toEqual(["intake", "fed"]);
  early.close();

  second.lost = false;
  const again = await openFarm(phone, { early: true });
  await again.complete();
  expect([again.view.intakes.length, again.view.feedings.length]).toEqual([1, 1]);
  await again.sync();
  expect(server.log.map(({ ev }) => ev.kind)).toEqual(["doe", "pen", "intake", "fed"]);
});
