import type { Reading } from "./columns.ts";
import { FORAGES } from "./energy.ts";
import { LIMITS } from "../../tables/lab.ts";
import { HUNDRED, tenths } from "./numbers.ts";

/** What no feed can be. */
const HAYS = ["legume", "grass", "mixed"];

export function check_report(kind: string, cured: boolean, reading: Reading): void {
  dry_matter(cured && HAYS.includes(kind), reading);
  nesting(reading);
  limits(FORAGES.includes(kind), reading);
}

function dry_matter(hay: boolean, reading: Reading): void {
  const { dm } = reading;
  if (dm === null) return;
  if (dm < LIMITS.dm_least || dm > HUNDRED) reading.refuse("dm_impossible", "dm", tenths(dm));
  else if (hay && dm < LIMITS.hay_dm_least) reading.refuse("looks_like_moisture", "dm", tenths(dm));
  else if (hay && dm < LIMITS.hay_dm_low) reading.note("dm_low_for_hay", "dm", tenths(dm));
}

function nesting(reading: Reading): void {
  const { dry } = reading;
  const { adf, ndf, lignin } = dry;
  for (const [name, v] of Object.entries(dry)) {
    if (v > HUNDRED && !["tdn", "ca", "p"].includes(name)) reading.refuse("over_100", name);
  }
  if (adf !== undefined && ndf !== undefined && adf >= ndf) reading.refuse("adf_above_ndf", "adf");
  if (lignin !== undefined && adf !== undefined && lignin >= adf) reading.refuse("lignin_above_adf", "lignin");
  const parts = ["cp", "ndf", "fat", "ash"].reduce((sum, name) => sum + (dry[name] ?? 0), 0);
  if (parts > LIMITS.parts_most && !reading.problems.some(([code]) => code === "over_100")) {
    reading.refuse("parts_over_100", "", tenths(parts));
  }
}

function limits(forage: boolean, reading: Reading): void {
  const { tdn, ash } = reading.dry;
  if (forage) forage_limits(reading);
  if (tdn !== undefined && (tdn < LIMITS.tdn_least || tdn > (forage ? LIMITS.tdn_most_forage : LIMITS.tdn_most))) {
    reading.refuse("tdn_impossible", "tdn", tenths(tdn));
  }
  for (const name of ["ca", "p"] as const) {
    const v = reading.dry[name];
    if (v !== undefined && v > LIMITS[`${name}_most`]) reading.refuse(`${name}_impossible`, name, tenths(v));
  }
  if ((ash ?? 0) > LIMITS.ash_soil) reading.note("soil", "ash");
}

function forage_limits(reading: Reading): void {
  const { cp = 0, ca = 0 } = reading.dry;
  if (cp <= HUNDRED) {
    if (cp > LIMITS.cp_most_forage) reading.refuse("cp_impossible", "cp", tenths(cp));
    else if (cp > LIMITS.cp_nitrate) reading.note("nitrate", "cp");
  }
  if (ca > LIMITS.ca_high_forage && ca <= LIMITS.ca_most) reading.note("ca_high", "ca");
}
