import { expect, test } from "vitest";
import { Account } from "../../src/core/phone/sync/account.ts";
import { Session } from "../../src/core/phone/sync/session.ts";
import { FakeServer, json } from "../support/fake_server.ts";

const nothing = () => new Response(null, { status: 204, headers: { "X-Mangerline": "1" } });

function opened() {
  const server = new FakeServer("p1");
  const env = {
    fetch: server.fetch, setTimer: (done: () => void, ms: number) => setTimeout(done, ms),
    clearTimer: (timer: unknown) => clearTimeout(timer as never),
  };
  const session = new Session(env);
  return { server, session, account: new Account(session), hers: new Account(session, () => "p1") };
}

test("an answer without words is no foreign page's", async () => {
  const { server, account } = opened();
  server.next.push(nothing);
  expect(await account.revoke("f1", "i1")).toEqual({ ok: true, body: null });
  expect(server.requests.at(-1)).toMatchObject({ method: "DELETE", path: "/api/farms/f1/invitations/i1" });
});

test("but an empty page that should have had words is", async () => {
  const { server, account } = opened();
  server.next.push(() => new Response("", { status: 200, headers: { "X-Mangerline": "1" } }));
  expect(await account.members("f1")).toMatchObject({ ok: false, code: "not_ours" });
});

test("what is wrong is told with its field and the wait", async () => {
  const { server, account } = opened();
  server.next.push(() => json(400, { code: "password_too_short", message: "", where: "password" }));
  expect(await account.recover("Ada", "c", "p")).toEqual({
    ok: false, code: "password_too_short", where: "password", after_ms: 0,
  });
});

test("who made an account is on from then, with the code that is shown once", async () => {
  const { server, session, account } = opened();
  const facts = { ...server.session(), person: { id: "p9", name: "Effie" }, csrf: "next", recovery_code: "ACDE-FGHJ" };
  server.next.push(() => json(201, facts));
  expect(await account.signUp({ name: "Effie", password: "x" })).toMatchObject({
    ok: true, body: { recovery_code: "ACDE-FGHJ" },
  });
  expect(session.facts).toMatchObject({ person: { id: "p9" }, csrf: "next" });
});

test("a door that leaves her signed out says so with 401, and that is well", async () => {
  const { server, account } = opened();
  server.next.push(() => json(401, { code: "sign_in", status: 401 }));
  expect(await account.mailReset("key", "a new one")).toMatchObject({ ok: true });
  server.next.push(() => json(400, { code: "invalid_password_reset", where: "key" }));
  expect(await account.mailReset("key", "a new one")).toMatchObject({ ok: false, code: "invalid_password_reset" });
});

test("only passkeys are keys: spare codes are listed beside them", async () => {
  const { server, account } = opened();
  const keys = [{ type: "webauthn", id: 4, name: "phone" }, { type: "recovery_codes", total_code_count: 10 }];
  server.next.push(() => json(200, { status: 200, data: keys }));
  expect(await account.keys()).toMatchObject({ ok: true, body: [{ id: 4, name: "phone" }] });
});

/** Who was on at the server when each request came to a door of an account. */
function watched(server: FakeServer) {
  const asked: (string | undefined)[] = [];
  server.next.push(...Array.from({ length: 6 }, () => () => (asked.push(server.person?.id), json(200, {}))));
  return asked;
}

test("while another one's entries go out, what she asks about herself is asked as herself", async () => {
  const { server, session, hers } = opened();
  server.seats.set("p1", "Ada").set("p2", "Bea");
  await session.refresh();
  await session.take("p2");
  const asked = watched(server);
  await hers.setPin("4711", "hers");
  await session.take("p2");
  await hers.places();
  await session.take("p2");
  await hers.addKey("phone", {});
  expect(asked).toEqual(["p1", "p1", "p1"]);
});

test("her entries and what she asks about herself begin at once, and her place is taken once", async () => {
  const { server, session, hers } = opened();
  server.seats.set("p1", "Ada").set("p2", "Bea");
  await session.refresh();
  await session.take("p2");
  const taken = () => server.requests.filter(({ method }) => method === "PUT").length;
  const before = taken();
  server.next.push(() => json(200, {}));
  const [, asked] = await Promise.all([session.take("p1"), hers.newRecoveryCode("hers")]);
  expect(asked).toMatchObject({ ok: true });
  expect(taken() - before).toBe(1);
});

test("what was written in another one's turn did not count, and is asked again as herself", async () => {
  const { server, session, hers } = opened();
  server.seats.set("p1", "Ada").set("p2", "Bea");
  await session.refresh();
  server.next.push(() => {
    server.person = { id: "p2", name: "Bea" };
    return json(403, { code: "csrf" });
  });
  const asked = watched(server);
  expect(await hers.newRecoveryCode("hers")).toMatchObject({ ok: true });
  expect(asked).toEqual(["p1"]);
});

test("who has no place on this browser any more is told to sign in, and nothing is asked in another's name", async () => {
  const { server, session, hers } = opened();
  server.seats.set("p2", "Bea");
  await session.refresh();
  await session.take("p2");
  const asked = watched(server);
  expect(await hers.setPin("4711", "hers")).toMatchObject({ ok: false, code: "turn" });
  expect(asked).toEqual([]);
});
