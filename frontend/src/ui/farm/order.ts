import { record, together } from "../model/record.ts";
import { nameOf } from "../model/herd.ts";
import type { RecordRow } from "../model/shapes.ts";
import { t } from "../words/text.ts";

/** Moves one row to another place and numbers the list anew, writing only rows whose number changes. */
export function swap(kind: "pen" | "doe", rows: RecordRow[], from: number, to: number): void {
  const order = [...rows];
  order.splice(to, 0, ...order.splice(from, 1));
  together(t("order.moved", { name: nameOf(rows[from]) }), () =>
    order.forEach((row, i) => {
      const place = i + 1;
      if (row.f["order"] !== place)
        record(kind, row.id, { f: { order: place }, base: { order: row.stamp["order"] ?? "" } });
    }),
  );
}
