import { Farm } from "../../src/core/phone/farm.ts";
import type { FarmOptions } from "../../src/core/phone/farm_shapes.ts";
import { FakeServer } from "./fake_server.ts";
import { TestPhone } from "./phone.ts";

export const ADA = "11111111-1111-4111-8111-111111111111";
export const BEA = "22222222-2222-4222-8222-222222222222";
export const FARM = "33333333-3333-4333-8333-333333333333";
export const DOE = "44444444-4444-4444-8444-444444444444";
export const PEN = "55555555-5555-4555-8555-555555555555";

export interface Setup {
  phone: TestPhone;
  server: FakeServer;
  farm: Farm;
}

export async function openFarm(phone: TestPhone, more: Partial<FarmOptions> = {}): Promise<Farm> {
  return Farm.open({ person: ADA, farmId: FARM, zone: "Europe/Berlin", env: phone.env(), ...more });
}

/** Ada's phone, with signal, and a server that knows her. */
export async function setUp(seed = 1, more: Partial<FarmOptions> = {}): Promise<Setup> {
  const phone = new TestPhone(seed);
  const server = new FakeServer(ADA);
  phone.network = server.fetch;
  return { phone, server, farm: await openFarm(phone, more) };
}

export function score(farm: Farm, x100 = 300, doe = DOE) {
  return farm.record("score", doe, { x100 });
}

export function doe(farm: Farm, name = "Fern", id = DOE) {
  return farm.record("doe", id, { f: { name, size: "mini" }, base: {} });
}

/** A doe and one score, saved on the phone and not yet sent. */
export async function twoScores(): Promise<Setup> {
  const set = await setUp();
  await doe(set.farm).saved;
  await score(set.farm).saved;
  return set;
}

export const kinds = (farm: Farm) => farm.pending().map(({ event }) => event.kind);
