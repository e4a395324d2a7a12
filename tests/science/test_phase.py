"""Phases and lanes follow gestation, lactation and the herd's days."""

import numpy as np
import pytest

from herd.science.dates import phase
from herd.science.dates.phase import CloseUp, Stages

STAGES = Stages(settled_d=24, drying_off_d=76, dry_off_d=90, close_up_d=126, watch_d=145, fresh_d=21)
CLOSE_UP = CloseUp(single_d=140, many_before_d=25, usual_before_d=21, thin_x100=250, fat_x100=375)
NONE = np.full(6, -1.0)
GEST = np.array([-1.0, 10, 50, 80, 130, 146])


def seen(milking: bool, first: bool = False, dried: bool = False, checked: bool = False) -> list[int]:
    flags = np.full(6, milking)
    dim = np.full(6, 200.0) if milking else NONE
    return phase.phases(GEST, dim, flags, first, dried, checked, STAGES).tolist()


def test_a_milker_passes_from_exposed_through_drying_off_to_the_watch() -> None:
    assert seen(milking=True) == [phase.IN_MILK, phase.EXPOSED, phase.CARRYING_IN_MILK, phase.DRYING_OFF] + [
        phase.DRYING_OFF,
        phase.WATCH,
    ]


def test_a_grown_doe_dry_when_bred_is_settled_then_dry() -> None:
    expected = [phase.OPEN, phase.EXPOSED, phase.SETTLED, phase.SETTLED, phase.CLOSE_UP, phase.WATCH]
    assert seen(milking=False) == expected


def test_a_doe_dried_off_in_this_pregnancy_is_dry_at_once() -> None:
    assert seen(milking=False, dried=True)[2:4] == [phase.DRY, phase.DRY]


def test_a_first_freshener_is_never_dry_and_an_open_doeling_grows() -> None:
    found = seen(milking=False, first=True)
    assert found[0] == phase.GROWING
    assert phase.DRY not in found


def test_a_check_settles_her() -> None:
    assert seen(milking=False, checked=True)[1] == phase.SETTLED


def test_fresh_then_in_milk() -> None:
    dim = np.array([0.0, 20, 21, 200, 300, 400])
    found = phase.phases(NONE, dim, np.full(6, True), False, False, False, STAGES).tolist()
    assert found[:3] == [phase.FRESH, phase.FRESH, phase.IN_MILK]


def test_lanes() -> None:
    dry, milking = np.full(6, False), np.full(6, True)
    assert phase.lanes(GEST, milking, True).tolist() == [phase.LANE_MILK] * 6
    assert phase.lanes(GEST, dry, True).tolist() == [phase.LANE_OPEN] + [phase.LANE_FIRST] * 5
    assert phase.lanes(GEST, dry, False).tolist() == [phase.LANE_OPEN] + [phase.LANE_GROWN_DRY] * 5


@pytest.mark.parametrize(
    ("size", "first", "kids", "score", "expected"),
    [
        ("standard", False, 1, 300, 140),
        ("standard", False, 2, 300, 125),
        ("standard", False, 0, 300, 129),
        ("standard", False, 0, 250, 125),
        ("mini", False, 0, 300, 125),
        ("mini", False, 0, 375, 140),
        ("mini", True, 0, 0, 129),
        ("mini", False, 3, 400, 125),
    ],
)
def test_close_up_starts_by_what_she_carries_and_how_she_is(
    size: str, first: bool, kids: int, score: int, expected: int
) -> None:
    """Common practice, no source."""
    assert phase.close_up_day(150, size, first, kids, score, CLOSE_UP) == expected
