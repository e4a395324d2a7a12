import type { Pending } from "./farm_shapes.ts";
import type { Memory } from "./memory.ts";
import { compareText } from "../events/order.ts";
import type { OutboxRow } from "./store/rows.ts";

/** Entries only this phone knows: those that wait, and those the server refused. */
export function unknownToServer(memory: Memory): OutboxRow[] {
  return [...memory.outbox("waiting"), ...memory.outbox("rejected")];
}

/** In the order they were recorded. */
export function listed(memory: Memory, st: OutboxRow["st"]): Pending[] {
  const rows = memory.outbox(st).sort((a, b) => compareText(a.hlc, b.hlc));
  return rows.flatMap(({ id, code, why }) => {
    const event = memory.event(id);
    return event ? [{ event, code, why }] : [];
  });
}
