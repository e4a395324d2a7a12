import type { Risk } from "../../core/outlook/ground/shapes.ts";
import { t } from "../words/text.ts";

/** What is said of one risk: where nobody looked, nothing against her is no comfort. */
export function riskSaid(kind: "toxemia" | "milk_fever", of: Risk): { band: string; none: string; unknown: string } {
  const { blind, factors, unknown } = of;
  const what = unknown.map((one) => t(`risk.unknown.${one}`)).join(", ");
  return {
    band: `${t(`risk.${kind}`)}: ${t(`risk.band.${bandOf(of)}`)}`,
    none: factors.length || blind ? "" : t("risk.none"),
    unknown: what && t("risk.unknown", { what }),
  };
}

function bandOf({ by_sign, band, blind, unknown }: Risk): string {
  if (by_sign) return "sign";
  if (band !== "low") return band;
  return blind ? "blind" : unknown.length ? "part" : "low";
}
