import { expect, test } from "vitest";
import { ADA, DOE, doe, FARM, openFarm, PEN, score, setUp } from "../support/farm.ts";

const DAY = "2026-11-02";

async function known() {
  const { phone, farm } = await setUp();
  await doe(farm).saved;
  await farm.record("pen", PEN, { f: { name: "Lean-to" }, base: {} }).saved;
  const meal = farm.record("fed", PEN, { lines: [{ to: "", feed: "hay", g: 900 }], adds: false }, { slot: "morning" });
  await meal.saved;
  return { phone, farm, meal };
}

test("the next opening shows the picture of the last time before anything else is read", async () => {
  const { phone, farm, meal } = await known();
  await farm.keepPicture(DAY, {}, {});
  farm.close();
  const again = await openFarm(phone, { early: true });
  expect(again.picture?.day).toBe(DAY);
  expect(again.view.does[DOE]!.f["name"]).toBe("Fern");
  expect(again.view.feedings.map(({ ev }) => ev)).toEqual([meal.id]);
  expect(again.status).toMatchObject({ kind: "waiting", n: 3 });
  await again.complete();
  expect(again.picture).toBeNull();
  expect(again.view.feedings.map(({ ev }) => ev)).toEqual([meal.id]);
  expect(again.status).toMatchObject({ kind: "waiting", n: 3 });
});

test("a tap while the picture is shown is seen at once, kept, and there when all is read", async () => {
  const { phone, farm } = await known();
  await farm.keepPicture(DAY, {}, {});
  farm.close();
  const early = await openFarm(phone, { early: true });
  const tap = early.record("intake", DOE, { how: "refused", left_pct: 0, feed: "", fed: "" }, { slot: "morning" });
  expect(early.view.intakes.map(({ ev }) => ev)).toEqual([tap.id]);
  await Promise.all([tap.saved, early.complete()]);
  expect(early.view.intakes.map(({ ev }) => ev)).toEqual([tap.id]);
  early.close();
  expect((await openFarm(phone)).view.intakes.map(({ ev }) => ev)).toEqual([tap.id]);
});

test("what the picture cannot take up waits until all is read, and the picture stands", async () => {
  const { phone, farm, meal } = await known();
  await farm.keepPicture(DAY, {}, {});
  farm.close();
  const early = await openFarm(phone, { early: true });
  early.record("moved", DOE, { pen: PEN });
  expect([early.view.does[DOE]!.pen, early.view.feedings.length]).toEqual(["", 1]);
  await early.complete();
  expect([early.view.does[DOE]!.pen, early.view.feedings[0]!.ev]).toEqual([PEN, meal.id]);
});

test("how much she left, said while the picture is shown, is seen when all is read, and she stays on the list", async () => {
  const { phone, farm } = await known();
  await farm.keepPicture(DAY, {}, {});
  farm.close();
  const early = await openFarm(phone, { early: true });
  const data = { how: "left_some", left_pct: 0, feed: "", fed: "" };
  const tap = early.record("intake", DOE, data, { slot: "morning" });
  const share = early.record("correct", DOE, { of: tap.id, data: { ...data, left_pct: 50 } });
  expect([early.view.does[DOE]?.f["name"], early.view.intakes.map(({ ev }) => ev)]).toEqual(["Fern", [tap.id]]);
  await Promise.all([tap.saved, share.saved, early.complete()]);
  expect(early.view.intakes.map(({ left_pm }) => left_pm)).toEqual([500]);
});

test("once something was written after it, a picture is shown no more", async () => {
  const { phone, farm } = await known();
  await farm.keepPicture(DAY, {}, {});
  await score(farm).saved;
  farm.close();
  expect((await openFarm(phone, { early: true })).picture).toBeNull();
});

test("nothing is kept while an entry still has to be written", async () => {
  const { phone, farm } = await known();
  const { saved } = score(farm);
  await farm.keepPicture(DAY, {}, {});
  await saved;
  farm.close();
  expect((await openFarm(phone, { early: true })).picture).toBeNull();
});

test("a picture made by another build is left alone", async () => {
  const { phone, farm } = await known();
  await farm.keepPicture(DAY, {}, {});
  farm.close();
  await respell(phone.factory);
  expect((await openFarm(phone, { early: true })).picture).toBeNull();
});

/** The picture as another build would have made it. */
async function respell(factory: IDBFactory): Promise<void> {
  const opening = factory.open(`mangerline/${ADA}/${FARM}`);
  const db = await new Promise<IDBDatabase>((done) => (opening.onsuccess = () => done(opening.result)));
  const store = db.transaction("picture", "readwrite").objectStore("picture");
  const asked = store.get(0);
  await new Promise((done) => (asked.onsuccess = done));
  const row = asked.result as { text: string };
  const writing = store.put({ ...row, text: row.text.replace(/"build":"[^"]*"/, '"build":"other"') });
  await new Promise((done) => (writing.onsuccess = done));
  db.close();
}
