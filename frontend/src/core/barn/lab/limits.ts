/**
 * Limits for reading a laboratory report, in ten-thousandths. The table of herd/science/parameters/lab.toml, held equal
 * by a test.
 */
export const LIMITS = {
  agree_pct: 10_000, moisture_and_dm_slack: 2_000, dm_least: 50_000, hay_dm_least: 300_000, hay_dm_low: 800_000,
  cp_nitrate: 250_000, cp_most_forage: 400_000, tdn_most_forage: 850_000, tdn_least: 200_000, tdn_most: 1_350_000,
  parts_most: 1_020_000, ash_soil: 120_000, ca_most: 410_000, p_most: 320_000, ca_high_forage: 30_000,
  nel_lb_most_forage: 8_500, nel_lb_most: 11_000, me_lb_most_forage: 14_000, me_lb_most: 17_000,
  energy_kg_most: 50_000, nel_base: -540, legume_top: 823_800, legume_slope: 7_515, corn_silage_top: 878_400,
  corn_silage_slope: 7_000, lb_per_kg: 22_046,
} as const;
/** Hundred-thousandths, and whole kilojoules. */
export const PER_TDN = { me: 3_615, nel: 1_114 } as const;
export const KJ_PER_MCAL = 4_184;
