"""Whom a score answers late, and whom it does not; and that no feeder is filled which nobody saw emptied."""

from __future__ import annotations

import pytest

from tests.support.act_farm import farm_of
from tests.support.known_does import in_two_meals, standard, told
from tests.support.one_doe import OneDoe, code
from tests.support.some_does import word


def on_hay(hay_g: int, *scores: tuple[int, int]) -> OneDoe:
    """60 kg with twins, the same grass hay from day 60 on."""
    doe = standard()
    in_two_meals(doe, "pen", 60, grass_hay_general=hay_g)
    doe.fed_as_planned(60, 148)
    for day, x100 in scores:
        doe.scored(x100, day)
    return doe


def test_unscored_in_her_last_weeks_she_is_asked_for_a_score_and_then_the_careful_side_is_taken() -> None:
    """Hay a little under what she must have: the sums leave it open, and nobody scores her."""
    said = told(on_hay(1650), *range(100, 146, 3))
    asked = [day for day, prompt in said.items() if prompt == "score_her"]
    short = [day for day, prompt in said.items() if prompt == "energy_short"]
    assert asked
    assert short
    # a fortnight after the first, looked at every third day
    assert min(asked) < min(short) <= min(asked) + 15
    scored = on_hay(1650, *((day, 300) for day in range(88, 148, 7)))
    assert {"score_her", "energy_short"}.isdisjoint(told(scored, *range(100, 131, 6)).values())


@pytest.mark.parametrize(("x100", "closes"), [(300, True), (425, False)])
def test_a_score_that_holds_closes_the_question_and_not_for_a_very_fat_doe(x100: int, closes: bool) -> None:
    doe = on_hay(1450, (104, x100), (118, x100), (124, x100))
    said = doe.result(126)
    assert said["lines"]["me"]["st"] == "short"
    assert (code(said) == "energy_short") is not closes


@pytest.mark.parametrize(("name", "pen"), [("gorse", "mill"), ("fern", "north")])
def test_a_feeder_is_filled_where_it_was_seen_cleaned_and_not_where_hay_was_left_in_it(name: str, pen: str) -> None:
    for leaves in (False, True):
        does = farm_of(name)
        if leaves:
            does.log.intake(pen, does.on(-1), "evening", "left_some", 20)
        assert word(does.farm(), name) == "energy_short"
        offered = [act["code"] for act in does.acts(name)["offered"]]
        assert offered
        assert ("fill_feeder" in offered) is not leaves
