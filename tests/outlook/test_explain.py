"""The explanation says the numbers the prompt used: terms add up to the need, feeds to the day, days to the week."""

from __future__ import annotations

import re
from typing import Any

import pytest

from herd.outlook.codes import NUTRIENTS
from herd.outlook.explain.balance import week_rows
from herd.outlook.explain.eaten import feed_rows
from herd.outlook.explain.report import last_day, report
from herd.outlook.explain.terms import need_terms
from herd.outlook.rules import rules_of
from tests.acceptance import test_named_does as named
from tests.support.one_doe import OneDoe, code

DOES = {
    "miniature with twins": (named.miniature_with_twins, 135),
    "triplets": (named.triplet_doe, 128),
    "growing doeling": (named.growing_doeling, 110),
    "miniature in rich milk": (named.miniature_in_rich_milk, 80),
    "milker at dry-off": (lambda: named.milker_at_dry_off(cut_on=82), 89),
}
cases = pytest.mark.parametrize("nutrient", NUTRIENTS)
every_doe = pytest.mark.parametrize(("make", "day"), DOES.values(), ids=list(DOES))


def material(doe: OneDoe, day: int) -> tuple[Any, dict[str, Any], dict[str, int]]:
    return doe.farm(day), doe.shaped(day)["does"]["doe"], rules_of({})


@every_doe
@cases
def test_terms_add_up_to_the_need_of_the_balance(make: Any, day: int, nutrient: str) -> None:
    farm, record, rules = material(make(), day)
    on = last_day(farm, "doe")
    dm_g = sum(farm.ask("eaten_on", "doe", on)["dm"].values())
    terms = need_terms(farm, "doe", record, rules, on, nutrient, dm_g)
    used = farm.ask("need_on", "doe", on, dm_g)
    assert used is not None
    # energy is taken apart as the phone does; of the others each term is rounded by itself, the need once
    assert abs(sum(term.value for term in terms) - used[nutrient]) <= (0 if nutrient == "me" else len(terms))
    assert len(terms) > 1


@every_doe
@cases
def test_feeds_add_up_to_the_day_and_days_to_the_week(make: Any, day: int, nutrient: str) -> None:
    farm, _, _ = material(make(), day)
    on = last_day(farm, "doe")
    sums = farm.ask("day_sums", "doe", on, False)
    assert sums is not None
    assert sum(row[4] for row in feed_rows(farm, "doe", on, nutrient)) == sums["got"][nutrient]
    rows, week = week_rows(farm, "doe", nutrient), farm.ask("window", "doe", 7)
    counted = [row for row in rows if row[5] == "confirmed"]
    assert len(counted) == week["days"] == 7
    assert sum(row[1] for row in counted) == week["need"][nutrient]
    assert sum(row[2] for row in counted) == week["got"][nutrient]


@every_doe
def test_the_text_ends_with_the_prompt_the_phone_shows(make: Any, day: int) -> None:
    doe = make()
    farm, record, rules = material(doe, day)
    text = "\n".join(report(farm, "doe", record, rules, "me"))
    assert f"prompt: {code(doe.result(day)) or 'none'}" in text
    assert "maintenance.mature_dairy_kj" in text
    assert " READ " in text


def test_a_case_held_grain_and_minerals_are_told() -> None:
    doe = named.miniature_with_twins()
    shot = {"product": "Shot", "told": "", "why": "", "who": "vet", "milk_until": "", "meat_until": ""}
    for day in (60, 130):
        doe.log.add("treatment", "doe", {**shot, "carries": ["selenium"]}, doe.on(day))
    doe.log.add("freeze", "doe", {"until_on": doe.on(136), "grain_out": True, "of": ""}, doe.on(134))
    doe.log.intake("doe", doe.on(135), "morning", "refused")
    looked = {"of": "", "new_feed": "", "water_bad": "", "bullied": "", "suspect": "", "result": "same"}
    doe.log.add("triage", "doe", looked, doe.on(135), "midday")
    farm, record, rules = material(doe, 135)
    text = "\n".join(report(farm, "doe", record, rules, "me"))
    for said in (
        "refused, left all, meals 1, stage last_weeks",
        "urgency vet_now",
        "12:00 UTC: same",
        f"grain out from {doe.on(134)} to {doe.on(136)}, days left 1",
        f"selenium more than once in 180 days: Shot on {doe.on(60)}, Shot on {doe.on(130)}",
        "looked at daily",
        "prompt: off_feed_vet",
    ):
        assert said in text, said


def test_a_buck_is_told_to_have_no_amounts() -> None:
    doe = named.miniature_with_twins()
    doe.log.record("doe", "doe", sex="buck")
    farm, record, rules = material(doe, 135)
    text = "\n".join(report(farm, "doe", record, rules, "me"))
    assert "a buck: no amounts" in text


@cases
def test_what_ran_is_told_for_every_nutrient(nutrient: str) -> None:
    farm, record, rules = material(named.growing_doeling(), 110)
    text = "\n".join(report(farm, "doe", record, rules, nutrient))
    assert "What that rests on: what ran" in text
    assert "needs.maintenance.maintenance_luo2004" not in text
    if nutrient == "me":
        assert "needs.maintenance.maintenance_growing" in text


def test_a_farm_with_its_own_absorption_reads_its_own() -> None:
    doe = named.miniature_with_twins()
    doe.log.record("rules", "farm", calcium_absorption_pm=300)
    farm, record, _ = material(doe, 135)
    text = "\n".join(report(farm, "doe", record, rules_of({"calcium_absorption_pm": 300}), "ca"))
    [told] = [line for line in text.splitlines() if "calcium_absorption_pm" in line]
    assert re.search(r"calcium_absorption_pm +300 +permille absorbed", told)
    assert "this farm's rule; our default 400" in told
    assert "true absorption of goats when calcium is not in excess" in told


def test_a_doe_recorded_otherwise_since_is_told_by_her_branch() -> None:
    doe = named.milker_at_dry_off(cut_on=82)
    farm, record, rules = material(doe, 89)
    farm.view["does"]["doe"]["dried_on"] = doe.on(89)
    terms = need_terms(farm, "doe", record, rules, doe.on(89), "me", 1500)
    assert [term.name for term in terms] == ["her own"]


def test_ground_cold_fibre_readings_and_the_band_are_told() -> None:
    doe = named.miniature_with_twins()
    doe.log.record("pen", "pen", activity_pm=1200)
    readings = {"temp_c_x10": 391, "bhb_x10": 6, "urine": ""}
    doe.log.add("checkup", "doe", readings, doe.on(135), "morning")
    doe.log.add("weather", "farm", {"low_c": -10, "wet": False}, last_day(doe.farm(135), "doe"))
    farm, record, rules = material(doe, 135)
    text = "\n".join(report(farm, "doe", record, rules, "me"))
    for said in (
        "ground",
        "20 % of maintenance",
        "cold",
        "80 % band",
        "her weight",
        "fibre",
        "ketones 0.6 mmol/L",
        "g dry forage a day, least ",
        "to 1 of phosphorus, least 1.2",
    ):
        assert said in text, text
