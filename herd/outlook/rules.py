"""Herd rules: this farm's own choices and thresholds, our defaults, their limits and standing. One table, no logic.

Every default is a judgement unless its source says otherwise; a farm changes any of them by a `rules` event.
"""

from __future__ import annotations

from typing import Any, NamedTuple


class Rule(NamedTuple):
    """One herd rule: default, unit, lowest and highest allowed value, standing or source."""

    default: int
    unit: str
    low: int
    high: int
    source: str


JUDGEMENT = "judgement"
FITTED = "judgement, fitted on simulated farms"
PRACTICE = "common practice, no source"
RULES: dict[str, Rule] = {
    # how sharp a verdict may be
    "level_pm": Rule(80, "permille of need", 20, 300, JUDGEMENT),
    "protein_pm": Rule(100, "permille of need", 20, 400, JUDGEMENT),
    "calcium_pm": Rule(200, "permille of need", 100, 500, JUDGEMENT),
    "calcium_late_pm": Rule(100, "permille of need", 0, 300, JUDGEMENT),
    "calcium_dense_ug_g": Rule(9000, "ug calcium per g dry matter", 5000, 20000, JUDGEMENT),
    "calcium_swing_pm": Rule(1500, "permille of need", 1000, 5000, JUDGEMENT),
    "own_share_pm": Rule(300, "permille of dry matter that is hers alone", 0, 1000, JUDGEMENT),
    "pen_shared_pm": Rule(600, "permille of a pen's does", 300, 1000, JUDGEMENT),
    "confirmed_days": Rule(5, "days of the last seven", 2, 7, JUDGEMENT),
    # where a fresh score speaks against the sums
    "score_fresh_d": Rule(10, "days", 3, 30, JUDGEMENT),
    "score_holds_d": Rule(45, "days", 10, 90, JUDGEMENT),
    "score_thin_x100": Rule(250, "condition x 100", 200, 300, "extension text: at least 2.5 at breeding"),
    "score_fell_x100": Rule(50, "condition x 100", 25, 100, "scorer repeatability; act on half a unit or more"),
    "band_slack_x100": Rule(25, "condition x 100", 0, 100, JUDGEMENT),
    "slight_under_pm": Rule(150, "permille of need", 0, 300, JUDGEMENT),
    "fresh_slack_pm": Rule(300, "permille of need", 0, 500, JUDGEMENT),
    "over_hold_pm": Rule(250, "permille of need", 0, 500, JUDGEMENT),
    # when an energy line is worth a prompt
    "milk_slack_pm": Rule(200, "permille of need the band must lie clear of, in milk", 0, 500, FITTED),
    "short_clear_pm": Rule(50, "permille of need the band must lie clear of, not in milk", 0, 300, FITTED),
    "short_again_pm": Rule(100, "permille of need the band may reach after a week as short", 0, 300, FITTED),
    "feed_fell_pm": Rule(120, "permille less than the week before", 50, 400, FITTED),
    "ahead_clear_pm": Rule(150, "permille of need, a planned day", 0, 400, FITTED),
    "over_near_pm": Rule(50, "permille of need, near the top of her band or rising", 0, 200, FITTED),
    "over_dried_pm": Rule(40, "permille of need more, dry after milk", 0, 200, FITTED),
    "over_ends_d": Rule(10, "days before the late day", 0, 40, FITTED),
    "late_clear_pm": Rule(30, "permille of the floor, where a score alone bears it out", 0, 300, FITTED),
    "late_ahead_clear_pm": Rule(120, "permille of the floor, a planned day", 0, 300, FITTED),
    "late_many_clear_pm": Rule(70, "permille of the floor, a planned day, three kids and more", 0, 300, FITTED),
    "regain_days": Rule(60, "days", 30, 120, JUDGEMENT),
    "loss_kj_per_kg": Rule(28000, "kJ per kg of body loss", 15000, 45000, "derived from tissue energy x 0.84 / 0.70"),
    # late pregnancy
    "late_day": Rule(100, "day of gestation", 90, 120, "common practice, no source"),
    "cut_pm": Rule(100, "permille of what is offered now", 0, 200, JUDGEMENT),
    "cut_eaten_pm": Rule(120, "permille of what she eats of her appetite now", 0, 300, FITTED),
    "floor_share_pm": Rule(460, "permille of the litter's demand", 200, 1000, "fitted to GfE 2003, month 5"),
    "late_floor_system": Rule(0, "0 by her litter, 1 GfE 2003 month 5 (600 kJ)", 0, 1, "GfE 2003, Table 1"),
    "calcium_before_kidding": Rule(0, "0 to need, 1 hold, 2 vet's rule: legume held back", 0, 2, "sources contradict"),
    # composition that is not known: the most it could plausibly be
    "unknown_max_me_kj_kg": Rule(14000, "kJ per kg dry matter", 8000, 20000, JUDGEMENT),
    "unknown_max_cp_eq_ug_g": Rule(450000, "ug per g dry matter", 50000, 600000, JUDGEMENT),
    "unknown_max_ca_ug_g": Rule(20000, "ug per g dry matter", 1000, 60000, JUDGEMENT),
    "unknown_max_p_ug_g": Rule(12000, "ug per g dry matter", 1000, 30000, JUDGEMENT),
    # fibre
    "ndf_low_pm": Rule(350, "g NDF per kg dry matter", 250, 450, "amber below 35 %, trials with high-yielding goats"),
    "unknown_max_ndf_pm": Rule(700, "g NDF per kg dry matter", 300, 900, JUDGEMENT),
    # cold
    "cold_from_c": Rule(0, "degrees C, dry coat", -20, 15, "OSU Wayne County, lower critical temperature 32 F"),
    "cold_wet_from_c": Rule(14, "degrees C, wet coat", 0, 25, "OSU Wayne County, lower critical temperature 58 F"),
    "cold_pm_per_c": Rule(18, "permille of maintenance per degree", 0, 40, "Penn State: 1 % per degree F"),
    "cold_cap_pm": Rule(300, "permille of maintenance", 0, 600, "ceiling on metabolic rise, ruminants"),
    # how sure a ratio is: one standard deviation
    "maintenance_sd_pm": Rule(80, "permille of maintenance", 0, 300, "published mature values 412 to 501"),
    "mass_scale_sd_pm": Rule(20, "permille of weight", 0, 100, JUDGEMENT),
    "mass_tape_sd_pm": Rule(80, "permille of weight", 20, 200, "Saanen tape regression, residual 4.45 kg"),
    "mass_tape_mini_sd_pm": Rule(120, "permille of weight", 20, 250, JUDGEMENT),
    "mass_class_sd_pm": Rule(150, "permille of weight", 50, 300, JUDGEMENT),
    "kid_weight_sd_pm": Rule(190, "permille of kid weight", 50, 400, "Amoah 1996: 0.64 of 3.24 kg"),
    "litter_prior_sd_pm": Rule(350, "permille of litter size", 100, 600, "Amoah 1996: 0.67 of 1.85 kids"),
    "litter_scan_sd_pm": Rule(80, "permille of litter size", 0, 300, "scan at day 60, 91.7 % counted right"),
    "conceptus_sd_pm": Rule(120, "permille of the litter's demand", 0, 300, "efficiency 0.11 to 0.14 about 0.133"),
    "score_sd_x100": Rule(30, "condition x 100", 10, 60, "one keeper's score; reproduction of scores, 0.30"),
    "amount_sd_pm": Rule(70, "permille of feed by flake or scoop", 0, 300, JUDGEMENT),
    "need_high_pm": Rule(50, "permille", 0, 200, "501 kJ is the top of 412 to 501: the centre lies above the ratio"),
    "waste_share_sd_pm": Rule(150, "permille of shared feed eaten", 0, 500, FITTED),
    "milk_weighed_sd_pm": Rule(60, "permille of milk", 0, 300, JUDGEMENT),
    "milk_expected_sd_pm": Rule(200, "permille of milk", 50, 500, JUDGEMENT),
    "feed_sd_pm": Rule(100, "permille of a feed's energy when nothing better is known", 20, 300, "Preston: 10 %"),
    "cp_band_pm": Rule(190, "permille, half the 80 % band of one feed", 50, 500, "Preston: organic parts 15 %"),
    "mineral_band_pm": Rule(380, "permille, half the 80 % band of one feed", 100, 800, "Preston: minerals 30 %"),
    # temperature, degrees C x 10
    "temp_low_vet_x10": Rule(380, "degrees C x 10", 370, 385, "minerals and health bands, red below 38.0"),
    "temp_low_x10": Rule(385, "degrees C x 10", 380, 390, "Penn New Bolton: 38.6 to 40.0 in adults"),
    "temp_high_x10": Rule(397, "degrees C x 10", 392, 402, JUDGEMENT),
    "temp_high_vet_x10": Rule(405, "degrees C x 10", 400, 415, JUDGEMENT),
    # blood ketones, mmol/L x 10
    "bhb_watch_x10": Rule(5, "mmol/L x 10", 3, 8, "Dore 2015: 0.4 to 0.9 in the last five weeks"),
    "bhb_act_x10": Rule(8, "mmol/L x 10", 5, 16, "Marutsova & Binev 2017: subclinical from 0.8"),
    "bhb_vet_x10": Rule(16, "mmol/L x 10", 10, 30, "Marutsova & Binev 2017: clinical above 1.6"),
    # off her feed: hours until somebody looks again, and who is looked at every day
    "recheck_h_vet": Rule(1, "hours, while the vet is to come at once", 1, 4, JUDGEMENT),
    "recheck_h_early": Rule(12, "hours, early, open or in milk", 2, 24, JUDGEMENT),
    "recheck_h_late": Rule(4, "hours, day 100 to four weeks out", 1, 12, JUDGEMENT),
    "recheck_h_close": Rule(4, "hours, last four weeks and fresh", 1, 8, JUDGEMENT),
    "left_unsaid_pm": Rule(250, "permille of a meal of which some was left, nobody said how much", 50, 750, JUDGEMENT),
    "daily_from_d": Rule(42, "days before kidding", 14, 60, JUDGEMENT),
    # minerals that build up
    "selenium_apart_d": Rule(180, "days", 30, 365, JUDGEMENT),
    "copper_apart_d": Rule(365, "days", 60, 730, JUDGEMENT),
    # feeder
    "waste_pm": Rule(150, "permille of shared forage", 0, 600, JUDGEMENT),
    "grain_dm_pm": Rule(890, "permille dry matter in grain", 800, 950, "barley grain in the feed table"),
    # need, as compiled
    "maintenance_system": Rule(0, "0 Luo 2004 (501 kJ), 1 GfE 2003 (450 kJ)", 0, 1, JUDGEMENT),
    "calcium_absorption_pm": Rule(400, "permille absorbed", 300, 450, "INRA 0.40, Meschy 2002 0.30, NRC 2007 0.45"),
    "keeper_easy_pm": Rule(930, "permille of maintenance", 800, 1000, JUDGEMENT),
    "keeper_hard_pm": Rule(1080, "permille of maintenance", 1000, 1250, JUDGEMENT),
    # calendar
    "preg_days_mini": Rule(145, "days, printed as due", 140, 155, PRACTICE),
    "preg_days_standard": Rule(150, "days, printed as due", 143, 158, PRACTICE),
    "settled_day": Rule(24, "day of gestation", 17, 60, "one return to heat has passed, 17 to 24 days"),
    "dry_off_day_mini": Rule(85, "day of gestation", 60, 120, "about 60 days dry"),
    "dry_off_day_standard": Rule(90, "day of gestation", 60, 125, "about 60 days dry"),
    "dry_off_taper_d": Rule(14, "days grain comes down before dry-off", 5, 28, PRACTICE),
    "milkings_cut_d": Rule(7, "days of fewer milkings before dry-off", 0, 21, PRACTICE),
    "milk_at_dry_off_pm": Rule(500, "permille of her curve", 100, 1000, JUDGEMENT),
    "legume_after_dry_off_d": Rule(7, "days legume hay comes down after milk stops", 0, 21, JUDGEMENT),
    "close_up_single_day": Rule(140, "day of gestation, single or fat miniature", 120, 146, PRACTICE),
    "close_up_many_before_d": Rule(25, "days before kidding, twins, thin, unscanned miniature", 14, 42, PRACTICE),
    "close_up_before_d": Rule(21, "days before kidding, everybody else", 10, 42, "three weeks; others four"),
    "score_fat_x100": Rule(375, "condition x 100", 350, 450, JUDGEMENT),
    "fresh_days": Rule(21, "days after kidding", 7, 45, PRACTICE),
    # grain and hay of the rule plan
    "step_mini_g": Rule(60, "g dry grain", 20, 80, "common practice: about 2 oz, 50 to 60 g"),
    "step_standard_g": Rule(100, "g dry grain", 40, 150, "common practice: up to a quarter pound"),
    "step_days": Rule(3, "days between raises", 1, 7, "steps of two to three days; others four to seven"),
    # weights by the scoop, and what does not keep
    "weigh_again_d": Rule(120, "days a weighed scoop or flake stands", 14, 400, PRACTICE),
    "sprout_keep_d": Rule(1, "days ready sprouts may still be fed", 0, 4, PRACTICE),
    "plan_legume_milk_pm": Rule(500, "permille of hay", 0, 1000, JUDGEMENT),
    "plan_legume_dry_pm": Rule(200, "permille of hay, grown and dry", 0, 1000, PRACTICE),
    "plan_legume_first_pm": Rule(400, "permille of hay, growing first freshener", 0, 1000, JUDGEMENT),
    "plan_legume_close_pm": Rule(400, "permille of hay, at kidding", 0, 1000, JUDGEMENT),
    "plan_legume_open_pm": Rule(100, "permille of hay, open and dry", 0, 1000, JUDGEMENT),
    "plan_grass_kj_kg": Rule(8700, "kJ per kg dry matter", 6000, 11000, "grass hay in the feed table"),
    "plan_legume_kj_kg": Rule(8800, "kJ per kg dry matter", 6000, 11000, "mid-bloom alfalfa hay in the feed table"),
    "plan_grain_kj_kg": Rule(12700, "kJ per kg dry matter", 10000, 14500, "barley grain in the feed table"),
    "dense_hay_kj_kg": Rule(9200, "kJ per kg dry matter, best hay", 7500, 11000, "bud alfalfa hay in the feed table"),
}


def rules_of(fields: dict[str, Any]) -> dict[str, int]:
    """Defaults with the farm's own choices over them; a choice outside its limits is ignored."""
    chosen = {name: rule.default for name, rule in RULES.items()}
    for name, value in fields.items():
        rule = RULES.get(name)
        if rule and isinstance(value, int) and not isinstance(value, bool) and rule.low <= value <= rule.high:
            chosen[name] = value
    return chosen
