"""Ration arithmetic: what cannot be mixed is refused, and unknown is not zero."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from herd.science.base.errors import MissingInput, OutOfRange
from tests.published.comparisons.rations import (
    as_fed,
    blend_pct,
    dry_matter,
    gap,
    pearson_shares_pct,
    rest_must_hold_pct,
)

CONTENT = st.floats(1, 60)


@pytest.mark.parametrize(("first", "second", "target"), [(9, 12, 16), (9, 12, 8.9), (10, 10, 10)])
def test_a_target_no_mix_reaches_is_refused(first: float, second: float, target: float) -> None:
    with pytest.raises(OutOfRange):
        pearson_shares_pct(first, second, target)


@given(CONTENT, CONTENT, st.floats(0.01, 0.99))
def test_the_square_makes_its_target(first: float, second: float, share: float) -> None:
    if abs(first - second) < 0.01:
        second = first + 1
    target = first * share + second * (1 - share)
    a, b = pearson_shares_pct(first, second, target)
    assert a + b == pytest.approx(100)
    assert (a * first + b * second) / 100 == pytest.approx(target)


@given(st.floats(0.1, 50), st.floats(5, 100))
def test_as_fed_and_dry_matter_undo_each_other(dm: float, dm_pct: float) -> None:
    assert dry_matter(as_fed(dm, dm_pct), dm_pct) == pytest.approx(dm)


def test_a_blend_with_an_unknown_part_has_no_content() -> None:
    with pytest.raises(MissingInput, match="sunflower"):
        blend_pct({"barley": 9, "sunflower": 1}, {"barley": 0.05, "sunflower": None})


def test_the_rest_and_the_share_add_up_to_the_target() -> None:
    rest = rest_must_hold_pct(15, 63, 9.2)
    assert 0.63 * 9.2 + 0.37 * rest == pytest.approx(15)


def test_nothing_is_short_when_supply_exceeds_need() -> None:
    assert gap(1.0, 1.5) == 0
