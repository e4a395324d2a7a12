"""Each sentence to the doe it is meant for, and a doe it is not: real compiler, fold and evaluation."""

from __future__ import annotations

import pytest

from tests.acceptance.test_named_does import ALFALFA, BARLEY, BRED_ON, PLAIN_GRASS, STANDARD, in_two_meals
from tests.support.one_doe import OneDoe, code

GRASS = "grass_hay_general"


def late_doe(kids: int = 2, kg: int = 60, **grams: int) -> OneDoe:
    """Grown and dry, on her own feed from day 90 on."""
    doe = OneDoe(BRED_ON, 1000 * kg, 5, kids, mature_kg=kg, **STANDARD)
    in_two_meals(doe, "pen", 90, **grams)
    return doe


@pytest.mark.parametrize(("day", "kids", "says"), [(132, 2, "condition_thin_late"), (124, 1, "condition_thin_late")])
def test_a_thin_late_doe_on_much_legume_keeps_it_and_hears_of_her_flesh(day: int, kids: int, says: str) -> None:
    doe = late_doe(kids, alfalfa_hay_mid=2600)
    doe.fed_as_planned(100, 135)
    doe.scored(225, 110, day - 1)
    said = doe.result(day)
    assert "over" in (said["lines"]["ca"]["st"], (said["lines"]["ca"]["ahead"] or {}).get("st"))
    assert code(said) == says


def test_the_same_doe_at_3_is_to_calm_her_calcium() -> None:
    doe = late_doe(alfalfa_hay_mid=2600)
    doe.fed_as_planned(100, 135)
    doe.scored(300, 110, 131)
    assert code(doe.result(132)) == "calcium_over"


def thin_on_grain_and_poor_hay() -> OneDoe:
    """Energy short, calcium short: barley and orchardgrass, thin."""
    doe = late_doe(orchardgrass_hay=900)
    in_two_meals(doe, "doe", 90, barley_grain=200)
    doe.fed_as_planned(100, 135)
    doe.scored(275, 100)
    doe.scored(225, 128)
    return doe


def test_short_of_both_she_hears_energy_first_and_that_legume_comes_before_grain() -> None:
    said = thin_on_grain_and_poor_hay().result(130)
    assert (code(said), said["prompt"]["args"]["also"]) == ("energy_short", "calcium")


def on_grain_and_straw(**grams: int) -> OneDoe:
    doe = late_doe(kids=1, **grams)
    doe.fed_as_planned(95, 125)
    doe.scored(300, 95, 110, 116)
    return doe


def test_calcium_under_the_rule_beside_phosphorus_is_said_at_day_118() -> None:
    said = on_grain_and_straw(orchardgrass_hay=2000).result(118)
    assert said["lines"]["ca"]["per_p_x100"] == 106
    assert (code(said), said["prompt"]["args"]["legume"]) == ("ca_p_low", "none")


def test_grass_hay_with_calcium_enough_beside_phosphorus_is_not_named() -> None:
    said = on_grain_and_straw(grass_hay_general=2200).result(118)
    assert said["lines"]["ca"]["per_p_x100"] > 200
    assert not code(said).startswith(("ca_p", "calcium"))


def grain_late(grain_g: int, hay_g: int = 1700) -> OneDoe:
    doe = late_doe(grass_hay_general=hay_g)
    for slot in ("morning", "midday", "evening"):
        doe.plan("doe", slot, BARLEY, (90, grain_g // 3))
    doe.fed_as_planned(92, 130)
    doe.scored(300, 95, 109, 123)
    return doe


def test_a_late_well_doe_over_her_grain_of_a_day_holds_and_splits() -> None:
    said = grain_late(750).result(126)
    assert (code(said), said["prompt"]["args"]["late"]) == ("grain_day_big", True)


def test_with_soft_dung_it_is_an_illness() -> None:
    doe = grain_late(750)
    seen = {"temp_c_x10": 0, "bhb_x10": 0, "urine": "", "cud": "", "dung": "loose"}
    doe.log.add("checkup", "doe", {**seen, "legs": "", "eyes": 0, "udder": "", "belly": ""}, doe.on(126), v=2)
    assert code(doe.result(126)) == "overload_signs"
    fine = grain_late(300)
    fine.log.add("checkup", "doe", {**seen, "legs": "", "eyes": 0, "udder": "", "belly": ""}, fine.on(126), v=2)
    assert code(fine.result(126)) != "overload_signs"


def test_grain_over_its_share_of_what_she_eats_speaks() -> None:
    said = grain_late(600, hay_g=700).result(126)
    assert code(said) == "grain_share_big"
    assert said["prompt"]["args"]["share_pm"] > said["prompt"]["args"]["limit_pm"] == 400
    assert code(grain_late(300).result(126)) != "grain_share_big"


def open_doe(hay_g: int, grain_g: int = 420) -> OneDoe:
    """Dry and open, 60 kg: 15 g of dry forage for each kilogram are 900 g."""
    doe = OneDoe(BRED_ON, 60_000, 5, 0, mature_kg=60, **STANDARD)
    doe.log.add("preg_check", "doe", {"result": "open", "kids": 0, "how": "scan"}, doe.on(40))
    in_two_meals(doe, "pen", 0, grass_hay_general=hay_g)
    in_two_meals(doe, "doe", 0, barley_grain=grain_g)
    doe.fed_as_planned(40, 70)
    doe.scored(300, 45, 58, 68)
    return doe


def test_forage_under_its_floor_speaks_and_above_it_does_not() -> None:
    said = open_doe(1000).result(70)
    assert code(said) == "forage_low", said["prompt"]
    assert said["prompt"]["args"]["g"] < said["prompt"]["args"]["limit"] == 900
    assert code(open_doe(1400).result(70)) != "forage_low"


@pytest.mark.parametrize(("days", "says"), [(12, True), (-2, False)])
def test_past_her_last_date_the_vet_is_asked_and_no_step_is_offered(days: int, says: bool) -> None:
    doe = late_doe(grass_hay_general=2000)
    doe.fed_as_planned(100, 170)
    doe.scored(300, 120, 140)
    due = doe.outlook(140)["due"]
    last = next(day for day in range(140, 175) if doe.on(day) == due["late"])
    doe.fed_as_planned(171, last + 12)
    said = doe.result(last + days)
    assert (code(said) == "overdue") == says
    if says:
        since_mid = next(day for day in range(140, 175) if doe.on(day) == due["mid"])
        assert said["prompt"]["args"] == {"on": due["mid"], "days": last + days - since_mid, "why": "usual"}


def all_grass_to_alfalfa(*steps: tuple[int, int]) -> OneDoe:
    """2000 g of hay a day; STEPS give the grams of alfalfa among them."""
    doe = late_doe()
    for slot in ("morning", "evening"):
        doe.plan("pen", slot, ALFALFA, (90, 0), *((day, g // 2) for day, g in steps))
        doe.plan("pen", slot, GRASS, (90, 1000), *((day, 1000 - g // 2) for day, g in steps))
    doe.fed_as_planned(110, 132)
    doe.scored(300, 110, 124, 130)
    return doe


def test_all_grass_to_sole_alfalfa_overnight_is_named_before_it_comes() -> None:
    said = all_grass_to_alfalfa((136, 2000)).result(132)
    assert code(said) == "forage_switch_planned"
    args = said["prompt"]["args"]
    assert (args["from_pm"], args["to_pm"], args["near"]) == (0, 1000, True)


def test_the_same_switch_over_ten_days_is_not() -> None:
    doe = all_grass_to_alfalfa((133, 500), (136, 1000), (139, 1500), (142, 2000))
    assert code(doe.result(132)) != "forage_switch_planned"


def fat_doe(day: int, x100: int, **grams: int) -> OneDoe:
    doe = OneDoe(BRED_ON, 60_000, 5, 2, mature_kg=60, **STANDARD)
    in_two_meals(doe, "pen", 20, **grams)
    doe.fed_as_planned(day - 12, day)
    doe.scored(x100, day - 20, day - 1)
    return doe


@pytest.mark.parametrize(
    ("day", "x100", "hay_g", "late"),
    [(94, 400, 1600, True), (94, 375, 1600, False), (80, 425, 1500, False), (104, 375, 1600, True)],
)
def test_a_very_fat_doe_is_past_slimming_from_day_90(day: int, x100: int, hay_g: int, late: bool) -> None:
    said = fat_doe(day, x100, grass_hay_general=hay_g, alfalfa_hay_mid=150).result(day)
    assert code(said) == "condition_fat", said["prompt"]
    assert said["prompt"]["args"]["late"] == late


def test_slimming_takes_grain_before_legume_and_never_hay() -> None:
    grain = fat_doe(70, 400, grass_hay_general=1380, alfalfa_hay_mid=150, barley_grain=60)
    legume = fat_doe(70, 400, grass_hay_general=1460, alfalfa_hay_mid=150)
    hay = fat_doe(70, 400, grass_hay_general=1640)
    for doe, first in ((grain, "grain"), (legume, "legume"), (hay, "rich")):
        said = doe.result(70)
        assert (code(said), said["prompt"]["args"]["first"]) == ("condition_fat", first)


def test_a_doe_fed_to_need_that_thins_is_looked_at_for_another_cause() -> None:
    doe = OneDoe(BRED_ON, 60_000, 5, 2, mature_kg=60, **STANDARD)
    in_two_meals(doe, "pen", 20, grass_hay_general=2000)
    doe.fed_as_planned(40, 70)
    doe.scored(350, 40)
    doe.scored(300, 69)
    said = doe.result(70)
    assert code(said) == "thin_though_fed"
    doe = OneDoe(BRED_ON, 60_000, 5, 2, mature_kg=60, **STANDARD)
    in_two_meals(doe, "pen", 20, grass_hay_general=2000)
    doe.fed_as_planned(40, 70)
    doe.scored(325, 40, 69)
    assert code(doe.result(70)) != "thin_though_fed"


def test_a_step_of_two_grams_too_much_is_no_other_step() -> None:
    for g, says in ((105, False), (140, True)):
        doe = late_doe(grass_hay_general=2000)
        doe.plan("doe", "evening", BARLEY, (90, 0), (124, g))
        doe.fed_as_planned(100, 121)
        doe.scored(300, 100, 119)
        assert (code(doe.result(121)) == "step_planned_big") == says


def test_a_doe_who_missed_the_rules_steps_makes_them_up_one_by_one() -> None:
    """Nothing fed of the 100, 200 and 300 g the rules had by then: the next step is 100, not 400."""
    doe = late_doe(kids=1, grass_hay_general=2300)
    doe.fed_as_planned(110, 147)
    doe.scored(300, 110, 124, 138, 145)
    limit = doe.outlook(140)["limits"]["step_g"]
    said = [doe.result(day) for day in range(136, 147)]
    steps = [one["prompt"]["args"] for one in said if code(one) == "steps_ahead"]
    assert len(steps) > 2
    assert {step["then"] for step in steps} == {limit}


def fresh(grain_g: int) -> OneDoe:
    """Kidded at day 150 of the calendar, on good hay and some grain, her milk as expected."""
    doe = OneDoe(BRED_ON, 60_000, 5, 0, mature_kg=60, **STANDARD)
    doe.log.add("kidded", "doe", {"born": 2, "alive": 2}, doe.on(150))
    in_two_meals(doe, "pen", 130, grass_hay_general=1000, alfalfa_hay_mid=1400)
    in_two_meals(doe, "doe", 130, barley_grain=grain_g)
    doe.fed_as_planned(140, 170)
    doe.scored(300, 140, 160)
    return doe


def test_a_fresh_doe_has_a_ramp_of_grain_in_steps() -> None:
    args = next(
        said["prompt"]["args"] for said in map(fresh(300).result, range(151, 160)) if code(said) == "steps_ahead"
    )
    assert (args["rule"], args["state"]) == (True, "fresh")
    assert 0 < args["then"] - args["now"] <= 100
    assert not any(code(said) == "steps_ahead" for said in map(fresh(1000).result, range(151, 160)))


@pytest.mark.parametrize(("state", "day"), [("growing", 70), ("late", 120)])
def test_calcium_is_spoken_of_by_her_state_and_no_legume_where_there_is_none(state: str, day: int) -> None:
    young = {**STANDARD, "born_on": "2025-03-01", "kiddings_before": 0}
    doe = OneDoe(BRED_ON, 42_000, 5, 0, mature_kg=60, **young)
    in_two_meals(doe, "pen", 40, orchardgrass_hay=1500)
    doe.fed_as_planned(45, 122)
    doe.scored(300, 45, 60, 75, 90, 105, 119)
    said = doe.result(day)
    assert code(said) == "calcium_short"
    assert (said["prompt"]["args"]["state"], said["prompt"]["args"]["legume"]) == (state, "none")
    doe.log.add("lot", "second_cut", {"f": {"name": "Second cut", "feed": ALFALFA}, "base": {}}, doe.on(40))
    assert doe.result(day)["prompt"]["args"]["legume"] == "hand"


def milker(cut: bool) -> OneDoe:
    """Calcium that comes down in the plan while she milks, or a plan that stays."""
    doe = OneDoe(BRED_ON, 64_000, 5, 2, mature_kg=64, **STANDARD)
    doe.log.add("kidded", "doe", {"born": 2, "alive": 2}, doe.on(-200))
    for slot in ("morning", "evening"):
        doe.plan("pen", slot, ALFALFA, (40, 500), *([(84, 300), (86, 100), (88, 0)] if cut else []))
        doe.plan("pen", slot, PLAIN_GRASS, (40, 700), *([(84, 900), (86, 1100), (88, 1200)] if cut else []))
        doe.plan("doe", slot, BARLEY, (40, 250))
    doe.fed_as_planned(60, 80)
    for day in range(72, 80, 3):
        for slot in ("morning", "evening"):
            doe.log.add("milk", "doe", {"g": 1000, "fat_x100": 0}, doe.on(day), slot)
    doe.scored(300, 55, 78)
    return doe


def test_legume_is_kept_for_the_milker_whose_plan_takes_it() -> None:
    said = milker(cut=True).result(80)
    assert code(said) == "calcium_heading_short", said["prompt"]
    args = said["prompt"]["args"]
    assert (args["cause"], args["state"], args["legume"]) == ("plan", "milk", "fed")
    assert not code(milker(cut=False).result(80)).startswith("calcium")


def on_poor_hay(thin: bool = False) -> OneDoe:
    doe = OneDoe(BRED_ON, 60_000, 5, 0, mature_kg=60, **STANDARD)
    doe.log.add("kidded", "doe", {"born": 2, "alive": 2}, doe.on(100))
    in_two_meals(doe, "pen", 90, timothy_hay_full=1300, alfalfa_hay_mature=1000)
    in_two_meals(doe, "doe", 90, barley_grain=800)
    doe.fed_as_planned(95, 170)
    doe.scored(175 if thin else 300, 110, 140, 168)
    return doe


def test_protein_short_for_weeks_in_milk_asks_for_what_would_settle_it_and_after_everything_else() -> None:
    said = on_poor_hay().result(170)
    assert said["lines"]["cp"]["st"] == "short"
    assert (code(said), said["prompt"]["args"]["ask"]) == ("protein_short", "hay")
    assert code(on_poor_hay(thin=True).result(170)) not in ("", "protein_short")
    # a week of it says little
    assert code(on_poor_hay().result(106)) != "protein_short"
