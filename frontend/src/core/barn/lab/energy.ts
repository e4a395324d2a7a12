import { ENERGY_UNITS, type Column, type Reading, type Texts } from "./columns.ts";
import { KJ_PER_MCAL, LIMITS, PER_TDN } from "../../tables/lab.ts";
import { HUNDRED, hundredths, ratio, type Figure } from "./numbers.ts";

/** Energy of a report as TDN, and which way it was. */
export const FORAGES = ["legume", "grass", "mixed", "corn_silage"];
export const SAID = ["summative", "california", "oklahoma"];
type Energy = "me" | "nel";

export function settle_tdn(
  columns: [Column, Column], units: Texts, kind: string, said: string, reading: Reading,
): string {
  if (reading.dry["tdn"] !== undefined) return SAID.includes(said) ? said : "lab";
  for (const name of ["me", "nel"] as const) {
    const per_kg = energy(name, columns, units[name] ?? "", kind, reading);
    if (per_kg === null) continue;
    reading.dry["tdn"] = name === "me" ? from_me(per_kg) : from_nel(per_kg);
    return name;
  }
  return from_fibre(kind, reading);
}

/** Mcal per kg of dry matter, ten-thousandths; null when the report has none. */
function energy(
  name: Energy, [received, dry]: [Column, Column], unit: string, kind: string, reading: Reading,
): number | null {
  const written = dry[name] ?? received[name];
  if (!written) return null;
  if (!(ENERGY_UNITS as readonly string[]).includes(unit)) {
    reading.refuse("unit_unknown", name);
    return null;
  }
  const per_kg = in_kg(name, written, unit, FORAGES.includes(kind), reading);
  if (dry[name] || per_kg === null) return per_kg;
  if (!reading.dm) return null;
  reading.note("from_as_received", name);
  return ratio(per_kg, HUNDRED, reading.dm);
}

function in_kg(name: Energy, { v }: Figure, unit: string, forage: boolean, reading: Reading): number | null {
  const most_lb = LIMITS[forage ? `${name}_lb_most_forage` as const : `${name}_lb_most` as const];
  const taken = unit || (v <= most_lb ? "mcal_lb" : v <= LIMITS.energy_kg_most ? "mcal_kg" : "mj_kg");
  if ((taken === "mcal_lb" && v > most_lb) || (taken === "mcal_kg" && v > LIMITS.energy_kg_most)) {
    reading.refuse("energy_unit", name, hundredths(v));
    return null;
  }
  if (!unit) reading.note({ mcal_lb: "read_per_lb", mcal_kg: "read_per_kg", mj_kg: "read_as_mj" }[taken]!, name);
  if (taken === "mcal_lb") return ratio(v, LIMITS.lb_per_kg, 10_000);
  return taken === "mj_kg" ? ratio(v, 1000, KJ_PER_MCAL) : v;
}

const from_me = (per_kg: number) => ratio(per_kg, 100_000, PER_TDN.me);
const from_nel = (per_kg: number) =>
  ratio(ratio(per_kg, 10_000, LIMITS.lb_per_kg) - LIMITS.nel_base, 100_000, PER_TDN.nel);

/** Legume and corn silage have an equation on fibre alone; grass has none that was read, so it stays unknown. */
function from_fibre(kind: string, reading: Reading): string {
  const adf = reading.dry["adf"];
  if ((kind !== "legume" && kind !== "corn_silage") || adf === undefined) {
    reading.note("tdn_unknown");
    return "unknown";
  }
  reading.dry["tdn"] = LIMITS[`${kind}_top`] - ratio(LIMITS[`${kind}_slope`], adf, 10_000);
  reading.note("tdn_from_fibre_only");
  return `fibre_${kind}`;
}
