"""Looking a condition score ahead: the sums, and how wide they must be."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy import stats

from herd.science.condition_ahead import P, score_ahead, scored_sd
from herd.science.errors import OutOfRange


def test_the_reference_doe_gains_and_loses() -> None:
    """60 kg: +1 MJ/d is +0.10 in a month, -1 MJ/d -0.15 (40 and 28 MJ per kg, 7.2 kg a unit; worked by hand)."""
    up, down = (score_ahead(3.0, np.full(30, kj), 60) for kj in (1000.0, -1000.0))
    assert up.change == pytest.approx(0.104, abs=0.0005)
    assert down.change == pytest.approx(-0.149, abs=0.0005)
    assert down.change_kg == pytest.approx(-30 / 28, abs=0.001)


def test_a_doe_in_balance_is_as_uncertain_as_her_score() -> None:
    level = score_ahead(3.0, np.zeros(60), 60)
    assert level.score == 3.0
    assert level.high - 3.0 == pytest.approx(3.0 - level.low)
    assert level.high - 3.0 == pytest.approx(stats.norm.ppf(0.9) * 0.30, abs=1e-4)


def test_more_scorings_more_days_and_better_hay_tests_narrow_or_widen_it() -> None:
    def width(**more: Any) -> float:
        ahead = score_ahead(3.0, np.full(40, -2000.0), 60, **more)
        return ahead.high - ahead.low

    assert width(scorings=3) < width() < width(balance_sd_kj=1500.0)
    assert scored_sd(4) == pytest.approx(0.15)
    longer = score_ahead(3.0, np.full(60, -2000.0), 60)
    assert longer.high - longer.low > width()


def test_the_band_holds_four_in_five_of_does_made_with_those_errors() -> None:
    """Scorer error normal, conversion log-normal, hay error lasting: 80 % of such does end within the band."""
    dice = np.random.default_rng(5)
    balance, kg, sd_kj = np.full(45, -2500.0), 60.0, 1000.0
    ahead = score_ahead(3.0, balance, kg, sd_kj)
    true_start = 3.0 + dice.normal(0, 0.30, 20_000)
    per_kj = ahead.change / balance.sum() * np.exp(dice.normal(0, P["conversion_ln_sd"], 20_000))
    ends = true_start + per_kj * (balance.sum() + 45 * dice.normal(0, sd_kj, 20_000))
    assert 0.75 < np.mean((ends > ahead.low) & (ends < ahead.high)) < 0.85


def test_a_sum_beyond_the_scale_says_so_and_is_not_bent_back() -> None:
    gone = score_ahead(2.0, np.full(60, -8000.0), 40)
    assert gone.off_scale
    assert gone.score < 1


@pytest.mark.parametrize(("score", "kj", "kg"), [(0.9, 0, 60), (5.1, 0, 60), (3, -60_001, 60), (3, 0, 4)])
def test_bounds(score: float, kj: float, kg: float) -> None:
    with pytest.raises(OutOfRange):
        score_ahead(score, kj, kg)
