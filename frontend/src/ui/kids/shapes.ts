import type { Kidding } from "../../core/outlook/kidding/kidding.ts";
import type { Kid } from "../../core/outlook/kidding/newborn.ts";
import type { Doe, RecordRow } from "../model/shapes.ts";

/** One kid of a kidding: what its record says, and what was seen of it, as far as there is either. */
export interface OneKid {
  doe: Doe;
  kidding: Kidding;
  n: number;
  row: RecordRow | undefined;
  kid: Kid | undefined;
}
