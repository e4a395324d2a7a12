import type { Clock } from "../base/clock.ts";
import type { FarmZone } from "../base/days.ts";
import type { Env } from "../base/env.ts";
import { makeEvent, type Data, type Envelope } from "../events/events.ts";
import type { Recorded, When } from "./farm_shapes.ts";
import type { Keeping } from "./keeping.ts";
import type { Kind } from "../events/kinds.ts";
import { BadEvent, problem_of } from "../events/payloads.ts";
import { outboxRow } from "./store/settle.ts";
import type { EventRow } from "./store/rows.ts";

interface Parts {
  person: string;
  device: string;
  zone: FarmZone;
  env: Env;
  clock: Clock;
  keeping: Keeping;
}

/** A tap becomes an event: judged, then in memory at once and in storage after. */
export class Writer {
  readonly #parts: Parts;

  constructor(parts: Parts) {
    this.#parts = parts;
  }

  record(kind: Kind, subject: string, data: Data, when: When): Recorded {
    const event = this.#made(kind, subject, data, when);
    const problem = problem_of(event);
    if (problem) throw new BadEvent(problem);
    const row: EventRow = {
      id: event.id, text: JSON.stringify(event), st: "waiting", seq: 0, eff: null, own: true, aged_from: event.entered,
    };
    return { id: row.id, saved: this.#parts.keeping.record(row, outboxRow(row)) };
  }

  #made(kind: Kind, subject: string, data: Data, when: When): Envelope {
    const { person, device, zone, env, clock } = this.#parts;
    const now = env.now();
    const happened = when.happened ?? now;
    const on = when.on ?? zone.dateAt(happened);
    return makeEvent({ kind, subject, data, happened, on, slot: when.slot ?? "" }, { author: person, device, clock, now, random: env.random });
  }
}
