"""Fed more of late: what the week's sums still hold is not said again, and nobody is asked twice."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from tests.outlook.test_energy_word import fed_until
from tests.support.flat_doe import TODAY, days, late, one_doe, result
from tests.support.log import Log
from tests.support.outlooks import branch


def raised(first_g: int, then_g: int) -> Log:
    """So much until three days ago, and the plan with it."""
    log = fed_until(first_g, then_g, turn=3)
    base = next(event["hlc"] for event in log.events if event["kind"] == "ration")
    log.ration("fern", "morning", "hay", (shift(TODAY, -2), then_g), base=base)
    return log


def code(said: dict[str, Any]) -> str:
    return said["prompt"]["code"] if said["prompt"] else ""


@pytest.mark.parametrize(("then_g", "told"), [(1150, True), (1200, False)])
def test_three_days_of_all_she_needs_end_what_the_week_still_holds(then_g: int, told: bool) -> None:
    # 828 and 864 permille, in the middle 907 and 946; the week by itself is far below need either way
    said = result(raised(700, then_g))
    assert said["lines"]["me"]["hi"] < 950
    assert (code(said) == "energy_short") is told


@pytest.mark.parametrize(("kids_x100", "told"), [(200, False), (300, True)])
def test_late_three_days_at_her_floor_do_and_not_for_one_with_three_kids(kids_x100: int, told: bool) -> None:
    # 1,250 g is the floor of 9,000 kJ to the gram, and 692 permille of her whole need
    said = result(raised(900, 1250), late(), who={"litter_x100": kids_x100})
    assert (code(said) == "energy_short") is told


@pytest.mark.parametrize(("before_g", "asked"), [(1500, False), (1250, True)])
def test_for_a_fortnight_after_she_was_given_less_nobody_is_asked_to_score_her_as_well(
    before_g: int, asked: bool
) -> None:
    """A week of 1,250 g, less than before or as ever; a week ago she got more, and her need has climbed since."""
    log = one_doe(hay_g=1500, own=False, confirm=0)
    for ago, on in enumerate(reversed(days(40))):
        log.fed("p", on, "morning", ("", "hay", before_g if ago >= 14 else 1250 if ago >= 7 else 1490))
    # 786 permille of the last week's need, 861 in the middle; 882 of that before: only this week leaves it open
    climbs = {"as_is": branch(appetite_g=1300, me_kj=[9500] * 39 + [11600] * 21)}
    assert (code(result(log, climbs, day0=shift(TODAY, -45))) == "score_her") is asked
