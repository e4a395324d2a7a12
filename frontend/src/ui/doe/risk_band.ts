import type { Risk } from "../../core/outlook/ground/shapes.ts";

/** Where nobody looked, nothing against her is no comfort. */
export function bandOf({ by_sign, band, blind, unknown }: Risk): string {
  if (by_sign) return "sign";
  if (band !== "low") return band;
  return blind ? "blind" : unknown.length ? "part" : "low";
}
