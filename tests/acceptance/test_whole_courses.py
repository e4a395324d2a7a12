"""Six does from breeding to three weeks fresh, on the real compiler, fold and evaluation, looked at every other day.

What a vet would expect each to hear, and on which days, is common practice, no source: see what each is fed in
tests/support/course_does.py.
"""

from __future__ import annotations

from functools import cache

import pytest

from tests.support.course_does import COURSES, KIDS, LAST
from tests.support.known_does import told

# a season of every day, doe by doe: ten seconds together
pytestmark = pytest.mark.slow

QUIET = {"", "steps_ahead"}
FRESH = {*QUIET, "kids_wait", "kids_look"}
# Close to kidding calcium may read short on what grain displaces; nobody is told to take it away.
CLOSE = {*QUIET, "calcium_heading_short", "calcium_short"}
# Milk goes and grain with it: for some days her plan looks ahead of her need.
DRYING = {*QUIET, "energy_heading_short", "calcium_heading_short", "forage_switch_planned"}

# from, to, what she may hear on those days
MAY_HEAR = {
    "usual_miniature": [(0, 114, {""}), (115, 149, QUIET), (KIDS, LAST, FRESH)],
    "triplets": [(0, 99, {""}), (100, 127, {*CLOSE, "score_her"}), (128, 149, {"energy_short"}), (KIDS, LAST, FRESH)],
    "young_miniature": [(0, 126, {""}), (127, 149, QUIET), (KIDS, LAST, FRESH)],
    "rich_milker": [(0, 69, {""}), (70, 91, DRYING), (92, 114, {""}), (115, 149, CLOSE), (KIDS, LAST, FRESH)],
    "over_rich": [
        (0, 41, {"", "energy_over"}),
        (42, 99, {"energy_over", "condition_fat"}),
        (100, 149, {"condition_fat"}),
        (KIDS, LAST, {*FRESH, "energy_heading_short", "energy_short"}),
    ],
    "dried_milker": [(0, 71, {""}), (72, 99, DRYING), (100, 114, {""}), (115, 149, CLOSE), (KIDS, LAST, FRESH)],
}
# what she must have heard between two days
MUST_HEAR = {
    "usual_miniature": [("steps_ahead", 115, 130), ("kids_wait", KIDS, KIDS + 4)],
    "triplets": [("score_her", 118, 127), ("energy_short", 128, 130)],
    "young_miniature": [("steps_ahead", 126, 133), ("steps_ahead", KIDS, LAST)],
    "rich_milker": [("steps_ahead", 69, 80), ("steps_ahead", 115, 124)],
    "over_rich": [("energy_over", 0, 8), ("energy_over", 42, 46), ("condition_fat", 88, 92)],
    "dried_milker": [("forage_switch_planned", 85, 91), ("steps_ahead", 72, 80)],
}


@cache
def heard(doe: str) -> dict[int, str]:
    return told(COURSES[doe](), *range(0, LAST, 2))


@pytest.mark.parametrize("doe", COURSES)
def test_she_hears_nothing_that_is_not_hers_from_breeding_to_three_weeks_fresh(doe: str) -> None:
    spans = MAY_HEAR[doe]
    strays = {
        (day, word)
        for day, word in heard(doe).items()
        if not any(first <= day <= last and word in may for first, last, may in spans)
    }
    assert strays == set()


@pytest.mark.parametrize(("doe", "word", "first", "last"), [(doe, *row) for doe in COURSES for row in MUST_HEAR[doe]])
def test_and_hears_in_time_what_is(doe: str, word: str, first: int, last: int) -> None:
    assert word in {said for day, said in heard(doe).items() if first <= day <= last}
