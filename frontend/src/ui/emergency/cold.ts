import { HOUR_MS } from "../../core/base/days.ts";
import type { Kidding } from "../../core/outlook/kidding/kidding.ts";
import { born_ms } from "../../core/outlook/kidding/litter.ts";
import { KID_YOUNG_H } from "../../core/tables/numbers.ts";
import type { RecordRow } from "../model/shapes.ts";
import { t } from "../words/text.ts";

/** What a cold kid needs hangs on its age. */
export function coldSaid(row: RecordRow | undefined, { last_ms, timed }: Kidding, now_ms: number): string {
  const at_ms = row ? born_ms(row) : last_ms;
  if (!timed && !row?.f["born_min"]) return t("kids.cold.age", { h: KID_YOUNG_H });
  return t(now_ms - at_ms < KID_YOUNG_H * HOUR_MS ? "kids.cold.young" : "kids.cold.old", { h: KID_YOUNG_H });
}
