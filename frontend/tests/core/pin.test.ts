import { expect, test } from "vitest";
import { check_pin, MOST_TRIES } from "../../src/core/phone/pin.ts";
import type { Seat } from "../../src/core/phone/store/rows.ts";
import { Phone } from "../../src/core/phone/store/phone.ts";
import { ADA, BEA, openFarm, score, setUp } from "../support/farm.ts";
import { json } from "../support/fake_server.ts";
import { TestPhone } from "../support/phone.ts";

/** As Python's hashlib.pbkdf2_hmac("sha256", b"4711", bytes(range(16)), 1000) gives it. */
const SALT = "AAECAwQFBgcICQoLDA0ODw==";
const SEAT: Seat = {
  id: ADA, name: "Ada", pin: { salt: SALT, rounds: 1000, hash: "tb1uiJF+jBjAdeUuuEJ7vAD5jXMIzVCcSA5EkkK7qsA=" },
};

test("the right digits are told from wrong ones without a signal, as the server's own sum has it", async () => {
  const phone = new TestPhone();
  const kept = new Phone(phone.env());
  expect(await check_pin(phone.env(), kept, SEAT, "4711")).toEqual({ kind: "right" });
  expect(await check_pin(phone.env(), kept, SEAT, "4712")).toEqual({ kind: "wrong", left: MOST_TRIES - 1 });
  expect(await check_pin(phone.env(), kept, { ...SEAT, pin: null }, "")).toEqual({ kind: "right" });
});

test("five wrong ones lock the place for good, whatever comes then, and through a new page", async () => {
  const phone = new TestPhone();
  const said = [];
  for (let n = 0; n < MOST_TRIES; n++) {
    said.push((await check_pin(phone.env(), new Phone(phone.env()), SEAT, "0000")).kind);
  }
  expect(said).toEqual(["wrong", "wrong", "wrong", "wrong", "locked"]);
  expect(await check_pin(phone.env(), new Phone(phone.env()), SEAT, "4711")).toEqual({ kind: "locked" });
  await new Phone(phone.env()).tried(ADA, 0);
  expect(await check_pin(phone.env(), new Phone(phone.env()), SEAT, "4711")).toEqual({ kind: "right" });
});

test("a right one forgives those before it", async () => {
  const phone = new TestPhone();
  const kept = new Phone(phone.env());
  for (let n = 0; n < 4; n++) await check_pin(phone.env(), kept, SEAT, "0000");
  await check_pin(phone.env(), kept, SEAT, "4711");
  expect(await check_pin(phone.env(), kept, SEAT, "0000")).toEqual({ kind: "wrong", left: MOST_TRIES - 1 });
});

test("where the browser cannot work it out, nobody is let in by it and no try is used up", async () => {
  const phone = new TestPhone();
  const kept = new Phone(phone.env());
  expect(await check_pin(phone.env({ pbkdf2: null }), kept, SEAT, "4711")).toEqual({ kind: "cannot" });
  expect(await kept.tries(ADA)).toBe(0);
});

test("the server is shown the same digits when her place is taken, and without them her entries wait", async () => {
  const set = await setUp();
  set.server.people = [{ id: ADA, name: "Ada", role: "owner" }, { id: BEA, name: "Bea", role: "helper" }];
  set.server.seats = new Map([[ADA, "Ada"], [BEA, "Bea"]]);
  const shown: unknown[] = [];
  set.phone.network = (path, init) => {
    if (path !== "/api/session" || init.method !== "PUT") return set.server.fetch(path, init);
    const { pin } = JSON.parse(init.body as string) as { pin?: string };
    shown.push(pin);
    return pin === "4711" ? set.server.fetch(path, init) : Promise.resolve(json(403, { code: "pin_needed" }));
  };
  const bea = await openFarm(set.phone, { person: BEA, session: set.farm.session });
  await set.farm.session.refresh();
  await score(bea).saved;
  expect(await bea.sync()).toEqual({ kind: "locked", why: "other_person" });
  expect(bea.pending()).toHaveLength(1);
  bea.session.holdPin(BEA, "4711");
  await bea.sync();
  expect(shown).toEqual([undefined, "4711"]);
  expect(set.server.log.map(({ ev }) => ev.author)).toEqual([BEA]);
});

test("a place that only a password opens now is not asked for again and again", async () => {
  const set = await setUp();
  set.server.people = [{ id: ADA, name: "Ada", role: "owner" }, { id: BEA, name: "Bea", role: "helper" }];
  set.server.seats = new Map([[ADA, "Ada"], [BEA, "Bea"]]);
  set.phone.network = (path, init) =>
    path === "/api/session" && init.method === "PUT"
      ? Promise.resolve(json(403, { code: "password_needed" }))
      : set.server.fetch(path, init);
  const bea = await openFarm(set.phone, { person: BEA, session: set.farm.session });
  await set.farm.session.refresh();
  await score(bea).saved;
  expect(await bea.sync()).toEqual({ kind: "locked", why: "other_person" });
  expect(bea.pending()).toHaveLength(1);
});
