"""What was said of her does not come and go: asked for a score, given the careful side, and asked again."""

from __future__ import annotations

from random import Random

import pytest

from herd.outlook.compile import BEFORE_D
from herd.outlook.days import shift
from tests.support.flat_doe import TODAY, days, late, one_doe, result
from tests.support.log import Log
from tests.support.outlooks import branch

FORTNIGHT = 14
NEAR = {name: shift(TODAY, 20 + k) for k, name in enumerate(("early", "mid", "late", "printed"))}


def test_about_the_line_of_the_careful_act_nobody_is_asked_anew_within_a_fortnight() -> None:
    """She eats all she would, late and unscored, and gets a week 16 % under her floor and a week 7 %."""
    log = one_doe(confirm=0)
    for k, on in enumerate(days(40)):
        log.fed("p", on, "morning", ("fern", "hay", 1050 if k // 7 % 2 else 1162))
    said = [word(log, on) for on in days(22)]
    assert {"score_her", "energy_short"} <= {*said}
    asked = [k for k, code in enumerate(said) if code == "score_her"]
    anew = [k for k in asked if k and said[k - 1] != "score_her"]
    assert all(b - a > FORTNIGHT for a, b in zip(anew, anew[1:], strict=False))


@pytest.mark.parametrize(("since_g", "stays"), [(1070, True), (1162, False)])
def test_the_careful_act_stands_while_she_is_nearly_as_far_under_as_it_was_said_for(since_g: int, stays: bool) -> None:
    """Three weeks 16 % under her floor, then six days: the week comes to 15 % under it, or to 8 %."""
    log = one_doe(confirm=0)
    for k, on in enumerate(days(26)):
        log.fed("p", on, "morning", ("fern", "hay", 1050 if k < 20 else since_g))
    assert word(log, shift(TODAY, -6)) == "energy_short"
    assert (word(log, TODAY) == "energy_short") is stays


def test_however_hay_comes_and_goes_nobody_is_asked_anew_within_a_fortnight() -> None:
    """By outlooks that reach no farther back than ours do: what was asked is worked out from the same days again."""
    asked_anew = [anew for seed in range(10) for anew in [days_asked(seed)] if anew]
    assert len(asked_anew) > 5
    for anew in asked_anew:
        assert all(b - a > FORTNIGHT for a, b in zip(anew, anew[1:], strict=False))


def days_asked(seed: int) -> list[int]:
    """Those on which she is asked and was not the day before."""
    dice, log, g = Random(seed), one_doe(confirm=0), 1100
    for on in days(70):
        g = dice.randint(1000, 1200) if dice.random() < 0.2 else g
        if dice.random() < 0.9:
            log.fed("p", on, "morning", ("fern", "hay", g + dice.randint(-30, 30)))
    asked = [k for k, on in enumerate(days(40)) if word(log, on, BEFORE_D) == "score_her"]
    return [k for k in asked if k - 1 not in asked]


@pytest.mark.parametrize(("kidded_d", "heard"), [(10, None), (20, "score_her")])
def test_nobody_is_asked_for_a_score_in_the_fortnight_after_she_kidded(kidded_d: int, heard: str | None) -> None:
    log, kidded = one_doe(confirm=0), shift(TODAY, -kidded_d)
    for k, on in enumerate(days(60)):
        log.fed("p", on, "morning", ("fern", "hay", 1080 if k >= 54 else 1120))
    log.add("kidded", "fern", {"born": 1, "alive": 1}, kidded)
    basis = {"bred": "", "check": "", "dried": "", "kidded": kidded, "weight": ""}
    said = result(log, {"as_is": branch(gest=-1, phase=9)}, basis=basis, due=None, day0=shift(TODAY, -BEFORE_D))
    assert said["standing"] == "ok"
    assert (said["prompt"] and said["prompt"]["code"]) == heard


def word(log: Log, on: str, back_d: int = 40) -> str:
    said = result(log, late(appetite_g=900), day=on, day0=shift(on, -back_d), due=NEAR)["prompt"]
    return str(said["code"]) if said else ""


def test_too_few_meals_of_the_week_confirmed_two_weeks_tell_what_is_clear() -> None:
    # three of the seven days to yesterday; 700 g is 529 permille in the middle
    log = one_doe(700, confirm=0)
    for on in days(10)[:-4]:
        log.fed("p", on, "morning", ("fern", "hay", 700))
    said = result(log)
    assert said["lines"]["me"]["st"] == "unknown"
    assert (said["prompt"]["code"], said["prompt"]["args"]["witness"]) == ("energy_short", "sums")
