"""A small run of the simulated farms. The long one: python -m tests.simulation --farms 20"""

from __future__ import annotations

import pytest

from .farm import Row, run_farm
from .measure import a_month, held, ours
from .regimes import GOOD, POOR_HAY, SHORT
from .runs import run_many

SEED, FARMS, LOOK_EVERY_D = 1, 12, 4
LOWEST, HIGHEST = 75, 85


@pytest.fixture(scope="module")
def good() -> list[Row]:
    return run_many(SEED, FARMS, cores=2, regimes=(GOOD,), every=LOOK_EVERY_D)


@pytest.mark.slow
def test_the_stated_bands_hold_as_often_as_they_say(good: list[Row]) -> None:
    found = held(good)
    assert found is not None
    assert any(row.lo >= 0 for row in good)
    assert LOWEST <= found.inside <= HIGHEST


@pytest.mark.slow
def test_a_farm_on_the_usual_good_regime_hears_less_than_one_energy_prompt_a_doe_and_month(good: list[Row]) -> None:
    assert len({row.farm for row in good}) == FARMS
    assert 0 < a_month(good, ours) < 1


def test_the_same_seed_gives_the_same_rows() -> None:
    once, again = (run_farm(SEED, 0, SHORT, days=30, every=10) for _ in range(2))
    assert once == again


def test_the_truth_of_a_farm_does_not_depend_on_what_goes_wrong() -> None:
    one, other = (run_farm(SEED, 1, name, days=14, every=7) for name in (SHORT, POOR_HAY))
    assert [(row.doe, row.gest, row.true_pm) for row in one] == [(row.doe, row.gest, row.true_pm) for row in other]
