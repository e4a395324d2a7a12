"""Where her condition will be: today's score, the energy ahead of her, and how little of that is known."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .arrays import Num
from .condition import condition_change, scorer_sd, unit_weight
from .parameters import values
from .validity import check

P = values("condition_ahead")
LOWEST, HIGHEST = 1.0, 5.0


@dataclass(frozen=True)
class ScoreAhead:
    """A score to come with its 80 % band [points] and what makes it wide; off_scale when the sums leave 1 to 5."""

    score: float
    low: float
    high: float
    change: float
    change_kg: float
    scorer_sd: float
    conversion_sd: float
    balance_sd: float
    off_scale: bool


def scored_sd(scorings: int) -> float:
    """Scorer error behind a starting score that is the mean of some scorings.

    Equation: 0.30 / sqrt(n)

    Parameters
    ----------
    scorings : scalar [1], from 1; done by the same hand on days close together

    Returns
    -------
    scalar [points]

    Raises
    ------
    OutOfRange : scorings outside its range

    References
    ----------
    merkel2011; judgement
    """
    check(scorings=scorings)
    return float(scorer_sd() / np.sqrt(scorings))


def score_ahead(
    score: float, energy_balance_kj: Num, body_weight_kg: float, balance_sd_kj: float = 0.0, scorings: int = 1
) -> ScoreAhead:
    """Her score at the end of the days ahead, with its spread.

    Equation: score + sum of daily change; sd^2 = scorer^2 + (0.42 x change)^2 + (days x change per balance sd)^2

    Parameters
    ----------
    score : scalar [points], 1 to 5, today's
    energy_balance_kj : scalar or 1-D, n days [kJ/d], -60000 to 60000; to kidding, one value per day
    body_weight_kg : scalar [kg], 5 to 140, maternal
    balance_sd_kj : scalar [kJ/d], 0 to 20000; an error that lasts, as from untested hay
    scorings : scalar [1], from 1

    Returns
    -------
    ScoreAhead

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    Conversion from ewes, right within a factor of two. A real doe saves as she thins: long deep deficits overstate.

    References
    ----------
    ewe_bcs_rule; merkel2011; judgement
    """
    check(score=score, balance_sd_kj=balance_sd_kj)
    daily = np.atleast_1d(np.asarray(condition_change(energy_balance_kj, body_weight_kg), dtype=np.float64))
    change = float(daily.sum())
    spreads = (
        scored_sd(scorings),
        P["conversion_ln_sd"] * abs(change),
        len(daily) * float(condition_change(balance_sd_kj, body_weight_kg)),
    )
    half = P["band_z"] * float(np.linalg.norm(spreads))
    ahead = score + change
    off_scale = not LOWEST <= ahead <= HIGHEST
    change_kg = change * unit_weight(body_weight_kg)
    return ScoreAhead(ahead, ahead - half, ahead + half, change, change_kg, *spreads, off_scale)
