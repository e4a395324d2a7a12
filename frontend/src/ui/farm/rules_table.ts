/** Herd rules a keeper may set: name and our default, as in herd/outlook/rules.py, held equal by a test. */
export type Rule = [name: string, standard: number];

/**
 * Rules for which published systems differ, by the values that stand for one, ours first. The table of
 * herd/outlook/rule_choices.py.
 */
export const CHOICES: Record<string, number[]> = {
  maintenance_system: [0, 1], late_floor_system: [0, 1], calcium_absorption_pm: [400, 300, 450],
  calcium_before_kidding: [0, 1, 2], close_up_before_d: [21, 14, 30, 42],
};

export const GROUPS: [string, Rule[]][] = [
  [
    "dates",
    [
      ["preg_days_mini", 145], ["preg_days_standard", 150], ["settled_day", 24], ["dry_off_day_mini", 85],
      ["dry_off_day_standard", 90], ["dry_off_taper_d", 14], ["milkings_cut_d", 7], ["legume_after_dry_off_d", 7],
      ["late_day", 100], ["close_up_single_day", 140], ["close_up_many_before_d", 25], ["close_up_before_d", 21],
      ["fresh_days", 21],
    ],
  ],
  [
    "bands",
    [
      ["level_pm", 80], ["protein_pm", 100], ["calcium_pm", 200], ["calcium_late_pm", 100],
      ["slight_under_pm", 150], ["fresh_slack_pm", 300], ["milk_slack_pm", 200], ["over_hold_pm", 250],
      ["cut_pm", 100], ["calcium_before_kidding", 0], ["confirmed_days", 5], ["ndf_low_pm", 350],
    ],
  ],
  [
    "scores",
    [
      ["score_fresh_d", 10], ["score_holds_d", 45], ["score_thin_x100", 250], ["score_fat_x100", 375],
      ["score_fell_x100", 50], ["band_slack_x100", 25], ["regain_days", 60],
    ],
  ],
  [
    "feed",
    [
      ["step_mini_g", 60], ["step_standard_g", 100], ["step_days", 3], ["waste_pm", 150], ["weigh_again_d", 120],
      ["sprout_keep_d", 1], ["plan_legume_milk_pm", 500], ["plan_legume_dry_pm", 200],
      ["plan_legume_first_pm", 400], ["plan_legume_close_pm", 400], ["plan_legume_open_pm", 100],
    ],
  ],
  [
    "health",
    [
      ["temp_low_vet_x10", 380], ["temp_low_x10", 385], ["temp_high_x10", 397], ["temp_high_vet_x10", 405],
      ["bhb_watch_x10", 5], ["bhb_act_x10", 8], ["bhb_vet_x10", 16], ["recheck_h_vet", 1], ["recheck_h_close", 4],
      ["recheck_h_late", 4], ["recheck_h_early", 12], ["daily_from_d", 42], ["left_unsaid_pm", 250],
      ["selenium_apart_d", 180], ["copper_apart_d", 365],
    ],
  ],
  [
    "need",
    [
      ["maintenance_system", 0], ["keeper_easy_pm", 930], ["keeper_hard_pm", 1080], ["late_floor_system", 0],
      ["floor_share_pm", 460], ["calcium_absorption_pm", 400], ["cold_from_c", 0], ["cold_wet_from_c", 14],
      ["cold_pm_per_c", 18], ["cold_cap_pm", 300],
    ],
  ],
];
