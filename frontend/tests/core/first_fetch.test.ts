import { expect, test } from "vitest";
import type { FarmStore } from "../../src/core/phone/store/farm_store.ts";
import { DOE, openFarm, score, twoScores } from "../support/farm.ts";
import { TestPhone } from "../support/phone.ts";

test("a new phone shows the farm before it has stored it, and keeps what is recorded meanwhile", async () => {
  const { farm: first, server } = await twoScores();
  await first.sync();
  const phone = new TestPhone(9);
  phone.network = server.fetch;
  const [seen, seenBy] = [[] as number[], () => Object.keys(farm.view.does).length];
  let recorded = Promise.resolve();
  const store = (made: FarmStore) => {
    const honest = made.applySnapshot.bind(made);
    made.applySnapshot = (...given) => {
      seen.push(seenBy());
      recorded = score(farm, 350).saved;
      return honest(...given);
    };
    return made;
  };
  const farm = await openFarm(phone, { parts: { store } });
  expect(await farm.sync()).toEqual({ kind: "done" });
  await recorded;
  expect(seen).toEqual([1]);
  await farm.sync();
  farm.close();
  const again = await openFarm(phone);
  expect(again.view.does[DOE]!.scores).toHaveLength(2);
  expect(server.requests.filter(({ path }) => path.endsWith("/bootstrap"))).toHaveLength(2);
});
