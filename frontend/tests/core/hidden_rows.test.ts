import { expect, test } from "vitest";
import { ADA, BEA, DOE, doe, openFarm, score, setUp, twoScores } from "../support/farm.ts";
import { TestPhone } from "../support/phone.ts";

/** What an adviser is sent of other does: that something stands there. */
test("a row that is hidden keeps its place in the count and is nothing else", async () => {
  const { farm, server } = await twoScores();
  await farm.sync();
  const writer = await openFarm(new TestPhone(9), { env: { ...new TestPhone(9).env(), fetch: server.fetch } });
  for (const x100 of [300, 325, 350]) await score(writer, x100).saved;
  await writer.sync();
  const honest = server.changes.bind(server);
  server.changes = (seq, rev, limit) => {
    const all = honest(seq, rev, limit);
    const events = all.events.map((row) =>
      row.ev.kind === "score" && row.ev.data["x100"] !== 350
        ? { seq: row.seq, st: "hidden", eff: null, ev: { id: row.ev.id } } as unknown as typeof row : row);
    return { ...all, events };
  };
  const asked = server.requests.filter(({ path }) => path.endsWith("/bootstrap")).length;
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(server.requests.filter(({ path }) => path.endsWith("/bootstrap"))).toHaveLength(asked);
  expect(farm.view.does[DOE]!.scores.map(([, x100]) => x100)).toContain(350);
  expect(farm.view.does[DOE]!.scores.map(([, x100]) => x100)).not.toContain(325);
  expect([farm.view.aside, farm.view.parked, farm.diagnostics().includes("astray")]).toEqual([[], [], false]);
  expect(await score(farm, 275).saved).toBeUndefined();
  expect(await farm.sync()).toEqual({ kind: "done" });
});

test("nobody starts from what an adviser was let see", async () => {
  const set = await setUp();
  set.server.people = [{ id: ADA, name: "Ada", role: "adviser" }, { id: BEA, name: "Bea", role: "owner" }];
  set.server.seats = new Map([[ADA, "Ada"], [BEA, "Bea"]]);
  await doe(set.farm).saved;
  await set.farm.sync();
  const bea = await openFarm(set.phone, { person: BEA, sharers: [ADA], after: ADA });
  expect(bea.view.does).toEqual({});
});

test("who was on the farm and is no more is not taken for a member", async () => {
  const set = await setUp();
  set.server.people = [{ id: ADA, name: "Ada", role: "owner" }, { id: BEA, name: "Bea", role: "helper", gone: true }];
  set.server.seats = new Map([[ADA, "Ada"], [BEA, "Bea"]]);
  await doe(set.farm).saved;
  await set.farm.sync();
  const bea = await openFarm(set.phone, { person: BEA, sharers: [ADA], after: ADA });
  expect(bea.view.does).toEqual({});
  expect(set.farm.nameOf(BEA)).toBe("Bea");
});

test("a farm one is not on yet stops the sending, and nothing is lost", async () => {
  const { farm, server } = await setUp();
  await doe(farm).saved;
  const body = JSON.stringify({ code: "not_yet", message: "", where: "" });
  const refusal = () => new Response(body, { status: 403, headers: { "X-Mangerline": "1" } });
  server.next.push(refusal, refusal, refusal);
  expect(await farm.sync()).toEqual({ kind: "locked", why: "not_member" });
  expect(farm.status).toMatchObject({ kind: "locked", n: 1 });
});

test("who is let see another part of the farm starts again with that part", async () => {
  const { farm, server } = await twoScores();
  await farm.sync();
  const honest = server.changes.bind(server);
  server.changes = (...asked) => ({ ...honest(...asked), scope: "part" });
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(farm.diagnostics()).toContain("bootstrap scope");
  const asked = server.requests.filter(({ path }) => path.endsWith("/bootstrap")).length;
  expect(await farm.sync()).toEqual({ kind: "done" });
  expect(server.requests.filter(({ path }) => path.endsWith("/bootstrap"))).toHaveLength(asked);
});
