"""The days behind her: a row of them says what it said when that day was today."""

from __future__ import annotations

from typing import Any, cast

import pytest

from herd.outlook.compile import BEFORE_D, compile_doe
from herd.outlook.days import shift
from tests.support.compiled import DOELING, MINI, STANDARD, TODAY, bred, folded, fresh, scanned, scored, weighed

# What was said of her a fortnight ago stood on the fortnight before it.
ASKED_D, WEEKS_D = 13, 14
MILKING = {"kidded": fresh(220), "kiddings": 1, "milks": [["2026-09-20", 1500, "morning", 0, "m"]]}
DOES: dict[str, dict[str, Any]] = {
    "miniature with twins": folded(MINI, bred=bred(104), check=scanned(2), weights=weighed(30, 60), scores=scored(300)),
    "triplets": folded(STANDARD, bred=bred(128), check=scanned(3), weights=weighed(60, 60)),
    "doeling": folded(DOELING, bred=bred(125), weights=weighed(25, 60)),
    "doeling near her date": folded(DOELING, bred=bred(140), check=scanned(1), weights=weighed(38, 60)),
    "open doeling": folded({**DOELING, "born_on": "2026-03-01"}),
    "milker": folded(STANDARD, **MILKING),
    "milker that carries": folded(STANDARD, bred=bred(70), **MILKING),
    "ran with the buck": folded(STANDARD, bred=bred(90, 42)),
    "fresh": folded(MINI, kidded=fresh(25, 3), kiddings=1),
    "nothing at all": folded({}),
}
# What is judged of days behind her. Her milk is apart: what it is taken for hangs on which weighing is the last.
JUDGED = ("phase", "lane", "gest", "me_kj", "floor_me_kj", "appetite_g", "band_lo", "band_hi")
# Of a doe that grows her kids' weight, too, is taken by hers of the day.
GROWN = 0.01


@pytest.mark.parametrize("name", DOES)
@pytest.mark.parametrize("ago", [1, 7, ASKED_D + WEEKS_D, BEFORE_D])
def test_a_day_behind_her_is_as_it_was_when_it_was_today(name: str, ago: int) -> None:
    now, then = (as_is(name, day) for day in (str(TODAY), back(ago)))
    for key in JUDGED:
        # from the day on that was today
        was = then[key][BEFORE_D : BEFORE_D + ago]
        said = now[key][BEFORE_D - ago : BEFORE_D]
        assert len(said) == ago
        assert said == pytest.approx(was, abs=1, rel=GROWN), key


def test_it_reaches_as_far_back_as_she_may_have_been_asked_and_the_weeks_that_stood_on() -> None:
    assert BEFORE_D > ASKED_D + WEEKS_D
    assert compile_doe(DOES["doeling"], {}, TODAY, "doe")["day0"] == back(BEFORE_D)


def as_is(name: str, day: str) -> dict[str, list[int]]:
    return cast(dict[str, list[int]], compile_doe(DOES[name], {}, day, "doe")["branches"]["as_is"])


def back(days: int) -> str:
    return shift(str(TODAY), -days)


def test_a_kid_just_weaned_has_an_outlook_though_weeks_ago_she_weighed_too_little_to_speak_of() -> None:
    small = folded({**DOELING, "born_on": "2026-09-20"}, weights=weighed(9, 0))
    assert compile_doe(small, {}, TODAY, "doe")["withheld"] == []
