"""Risk by documented factors: directions as the sources have them; the points are judgement."""

from __future__ import annotations

import pytest

from herd.science.base.errors import OutOfRange
from herd.science.risk.factors import Factor
from herd.science.risk.milk_fever import milk_fever_factors
from herd.science.risk.toxemia import toxemia_factors


def score(found: tuple[Factor, ...]) -> int:
    return sum(factor.points for factor in found)


def test_what_sources_call_a_risk_of_toxemia_raises_it() -> None:
    """Dore 2015: the larger the litter."""
    scores = [score(toxemia_factors(litter, False)) for litter in (1.0, 2.0, 3.0)]
    assert scores == sorted(set(scores))
    assert score(toxemia_factors(2.0, True)) > score(toxemia_factors(2.0, False))


@pytest.mark.parametrize(
    "worse", [(3.0, 2, False, None), (2.0, 3, False, None), (2.0, 2, True, None), (2.0, 2, False, 4.5)]
)
def test_what_sources_call_a_risk_of_milk_fever_raises_it(worse: tuple[float, int, bool, float | None]) -> None:
    """Merck 2022, a Texas veterinary sheet, Wilkens: litter, kiddings, a case before, much milk."""
    assert score(milk_fever_factors(*worse)) > score(milk_fever_factors(2.0, 2, False, None))


def test_the_gravest_comes_first_and_points_add_up() -> None:
    """Triplets 2 and a case before 2 stand before the third kidding, 1."""
    found = milk_fever_factors(3.0, 3, True, None)
    assert [factor.code for factor in found] == ["had_it_before", "triplets", "older"]
    assert score(found) == 5


def test_an_expected_litter_counts_as_twins_from_one_and_a_half() -> None:
    assert [factor.code for factor in toxemia_factors(1.49, False)] == []
    assert [factor.code for factor in toxemia_factors(1.5, False)] == ["twins"]


@pytest.mark.parametrize("litter", [0.0, 6.1])
def test_impossible_litters_are_refused(litter: float) -> None:
    with pytest.raises(OutOfRange):
        toxemia_factors(litter, False)
    with pytest.raises(OutOfRange):
        milk_fever_factors(litter, 1, False, None)
