/** Herd rules a keeper may set: name, our default, lowest, highest. The same table as herd/outlook/rules.py, held equal by a test. */
export type Rule = [name: string, standard: number, low: number, high: number];

export const GROUPS: [string, Rule[]][] = [
  ["dates", [
    ["preg_days_mini", 145, 140, 155], ["preg_days_standard", 150, 143, 158], ["settled_day", 24, 17, 60],
    ["dry_off_day_mini", 85, 60, 120], ["dry_off_day_standard", 90, 60, 125], ["dry_off_taper_d", 14, 5, 28],
    ["milkings_cut_d", 7, 0, 21], ["legume_after_dry_off_d", 7, 0, 21], ["late_day", 100, 90, 120],
    ["close_up_single_day", 140, 120, 146], ["close_up_many_before_d", 25, 14, 42], ["close_up_before_d", 21, 10, 42],
    ["fresh_days", 21, 7, 45],
  ]],
  ["bands", [
    ["level_pm", 80, 20, 300], ["protein_pm", 100, 20, 400], ["calcium_pm", 200, 100, 500], ["calcium_late_pm", 100, 0, 300],
    ["slight_under_pm", 150, 0, 300], ["fresh_slack_pm", 300, 0, 500], ["over_hold_pm", 250, 0, 500], ["cut_pm", 50, 0, 200],
    ["confirmed_days", 5, 2, 7], ["ndf_low_pm", 350, 250, 450], ["ca_p_low_x100", 120, 100, 200], ["ca_p_high_x100", 700, 200, 1000],
  ]],
  ["scores", [
    ["score_fresh_d", 10, 3, 30], ["score_holds_d", 45, 10, 90], ["score_thin_x100", 250, 200, 300], ["score_fat_x100", 375, 350, 450],
    ["score_fell_x100", 50, 25, 100], ["band_slack_x100", 25, 0, 100], ["regain_days", 60, 30, 120],
  ]],
  ["feed", [
    ["step_mini_g", 60, 20, 80], ["step_standard_g", 100, 40, 150], ["step_days", 3, 1, 7], ["waste_pm", 150, 0, 600],
    ["plan_legume_milk_pm", 500, 0, 1000], ["plan_legume_dry_pm", 200, 0, 1000], ["plan_legume_first_pm", 400, 0, 1000],
    ["plan_legume_close_pm", 400, 0, 1000], ["plan_legume_open_pm", 100, 0, 1000],
  ]],
  ["health", [
    ["temp_low_vet_x10", 380, 370, 385], ["temp_low_x10", 385, 380, 390], ["temp_high_x10", 397, 392, 402], ["temp_high_vet_x10", 405, 400, 415],
    ["bhb_watch_x10", 5, 3, 8], ["bhb_act_x10", 8, 5, 16], ["bhb_vet_x10", 16, 10, 30],
  ]],
  ["need", [
    ["maintenance_system", 0, 0, 1], ["keeper_easy_pm", 930, 800, 1000], ["keeper_hard_pm", 1080, 1000, 1250], ["floor_share_pm", 460, 200, 1000],
    ["cold_from_c", 0, -20, 15], ["cold_wet_from_c", 14, 0, 25], ["cold_pm_per_c", 18, 0, 40], ["cold_cap_pm", 300, 0, 600],
  ]],
];
