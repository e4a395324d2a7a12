"""Three kids and more in the last weeks: what she cannot eat to comes off her back, and no held score hides it."""

from __future__ import annotations

from typing import Any

import pytest

from tests.support.known_does import in_two_meals, standard, told
from tests.support.more_told_does import MORE
from tests.support.one_doe import OneDoe, code
from tests.support.some_does import SomeDoes, word
from tests.support.told_does import FARMS

HELD = (104, 118, 125)
CALCIUM_DOWN = {"calcium_over", "calcium_heading_over"}


def on_hay(kids: int, *scored_on: int, hay_g: int = 1750, **hay: int) -> OneDoe:
    """60 kg, the same grass hay from day 60 on: with three kids at seven tenths of her need on day 126."""
    doe = standard(kids)
    in_two_meals(doe, "pen", 60, **(hay or {"grass_hay_general": hay_g}))
    doe.fed_as_planned(60, 148)
    doe.scored(300, *scored_on)
    return doe


def prompt(doe: OneDoe, day: int) -> tuple[str, Any]:
    said = doe.result(day)["prompt"]
    return (said["code"], said["args"].get("what")) if said else ("", None)


def test_triplets_at_seven_tenths_are_looked_at_first_though_their_score_holds() -> None:
    doe = on_hay(3, *HELD)
    assert 690 <= doe.result(126)["lines"]["me"]["pm"] <= 710
    assert prompt(doe, 126) == ("risk_toxemia", "energy_well_short")


def test_twins_on_the_same_hay_are_not() -> None:
    assert "risk_toxemia" not in told(on_hay(2, *HELD), *range(120, 142, 3)).values()


def test_clear_ketones_answer_it_for_as_long_as_they_hold() -> None:
    doe = on_hay(3, *HELD)
    blank = {"temp_c_x10": 0, "urine": "", "cud": "", "dung": "", "legs": "", "eyes": 0, "udder": "", "belly": ""}
    doe.log.add("checkup", "doe", {**blank, "bhb_x10": 3}, doe.on(125), "midday", v=2)
    assert code(doe.result(126)) != "risk_toxemia"
    assert code(doe.result(130)) == "risk_toxemia"


def test_unscored_nobody_waits_for_a_score_to_the_day_she_kids() -> None:
    said = told(on_hay(3), *range(112, 146, 3))
    assert said[112] == "score_her"
    assert {said[day] for day in said if day >= 126} == {"energy_short"}
    level = told(on_hay(3, alfalfa_grass_hay_50=2600), *range(112, 127, 3))
    assert "energy_short" not in level.values()


@pytest.mark.parametrize(("kids", "told_so"), [(3, True), (2, False)])
def test_where_not_even_the_far_edge_comes_near_her_whole_need_she_is_short_whatever_her_score(
    kids: int, told_so: bool
) -> None:
    doe = on_hay(kids, *HELD, 134)
    assert (code(doe.result(135)) == "energy_short") is told_so


def quadruplets() -> SomeDoes:
    farm = {**FARMS, **MORE}["90 kg, day 115, quadruplets, alfalfa and grain"]()
    farm.fed_as_planned(-60, 27)
    return farm


def test_quadruplets_at_half_their_need_are_not_told_to_trade_what_is_rich_for_what_is_not() -> None:
    """Alfalfa and grain, all she eats of it, and her calcium far above need."""
    farm = quadruplets()
    said = {day: word(farm.farm(day), "ada") for day in range(0, 28, 3)}
    assert CALCIUM_DOWN.isdisjoint(said.values())
    assert {said[day] for day in said if day >= 18} == {"risk_toxemia"}


def test_one_who_is_level_on_as_much_calcium_is() -> None:
    doe = on_hay(1, *HELD, alfalfa_hay_mid=2300)
    assert doe.result(126)["lines"]["me"]["st"] == "level"
    assert code(doe.result(126)) in CALCIUM_DOWN
