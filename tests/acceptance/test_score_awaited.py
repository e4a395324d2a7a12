"""Thin or fat and on her way back she waits for her next score: a score moves a quarter in a month and no faster."""

from __future__ import annotations

import pytest

from tests.support.known_does import in_two_meals, standard, stepped
from tests.support.one_doe import OneDoe, code

CHANGED = 25
CONDITION = {"condition_fat", "condition_thin", "condition_thin_late"}


def slimmed(x100: int = 400, grain_g: int = 400, changed: int = CHANGED) -> OneDoe:
    """60 kg, dry, scored heavy on hay and grain; her grain goes, and she keeps her hay."""
    doe = standard(kids=1)
    in_two_meals(doe, "pen", -10, orchardgrass_hay=1500)
    stepped(doe, "doe", barley_grain=[(-10, 400), (changed, 400 - grain_g)])
    doe.fed_as_planned(-10, 110)
    doe.scored(x100, changed - 5)
    return doe


def test_a_fat_doe_whose_grain_is_gone_is_not_asked_for_it_again() -> None:
    doe = slimmed()
    result = doe.result(CHANGED + 10)
    assert code(result) not in CONDITION
    assert (result["awaited"]["way"], result["awaited"]["x100"]) == ("down", 400)
    # four weeks of it
    assert doe.on(CHANGED + 26) <= result["awaited"]["on"] <= doe.on(CHANGED + 32)


def test_the_same_doe_who_keeps_her_grain_hears_it_on() -> None:
    result = slimmed(grain_g=0).result(CHANGED + 10)
    assert (code(result) in {"condition_fat", "energy_over"}, result["awaited"]) == (True, None)


def test_it_comes_back_on_the_day_she_was_to_be_scored() -> None:
    said = [code(slimmed().result(CHANGED + days)) for days in (23, 33)]
    assert said == ["", "condition_fat"]


@pytest.mark.parametrize(("next_score", "rests"), [(400, False), (425, False), (375, True)])
def test_her_next_score_decides(next_score: int, rests: bool) -> None:
    doe = slimmed()
    doe.scored(next_score, CHANGED + 27)
    result = doe.result(CHANGED + 30)
    assert (result["awaited"] is not None) == rests
    assert (code(result) in CONDITION) == (not rests)


def test_at_four_from_day_ninety_nothing_rests() -> None:
    result = slimmed(changed=80).result(94)
    assert (code(result), result["prompt"]["args"]["late"]) == ("condition_fat", True)


def test_what_she_leaves_says_otherwise() -> None:
    doe = slimmed()
    doe.log.add(
        "intake", "doe", {"how": "left_some", "left_pct": 30, "feed": "", "fed": ""}, doe.on(CHANGED + 10), "evening"
    )
    assert doe.result(CHANGED + 10)["awaited"] is None


def fed_up(changed: int, x100: int = 250) -> OneDoe:
    """60 kg with twins, scored thin; the feeder is filled after it."""
    doe = standard()
    stepped(doe, "pen", alfalfa_grass_hay_50=[(-10, 1500), (changed, 3200)])
    doe.fed_as_planned(-10, 148)
    doe.scored(x100, changed - 3)
    return doe


def test_a_thin_doe_fed_for_it_waits_for_her_score() -> None:
    result = fed_up(40).result(50)
    assert code(result) not in CONDITION
    assert result["awaited"]["way"] == "up"
    assert fed_up(40).on(50) < result["awaited"]["on"] <= fed_up(40).on(40 + 34)


def test_a_thin_doe_who_is_not_hears_it() -> None:
    doe = standard()
    in_two_meals(doe, "pen", -10, alfalfa_grass_hay_50=1500)
    doe.fed_as_planned(-10, 60)
    doe.scored(225, 37)
    assert doe.result(50)["awaited"] is None
    assert code(doe.result(50))


def test_thin_in_her_last_four_weeks_it_is_said_whatever_she_gets() -> None:
    result = fed_up(115).result(126)
    assert (code(result), result["awaited"]) == ("condition_thin_late", None)
