"""Days with the buck: on which of them she settled, and how likely at all."""

from __future__ import annotations

import numpy as np

from ..base.arrays import Days
from ..base.record import equation, remembered
from ..base.validity import check
from ..parameters import values

P = values("gestation")


@equation
@remembered(64)
def conception_weights(window_d: int) -> tuple[float, ...]:
    """Chance that she conceived on each day of an exposure, given that she did.

    First heat is uniform over one cycle from the buck's arrival; each heat conceives with chance 0.85.

    Parameters
    ----------
    window_d : scalar [d], 1 to 200; days with the buck, both ends counted

    Returns
    -------
    one chance per day [ratio], adding to 1

    Raises
    ------
    OutOfRange : window_d outside its range

    Validity
    --------
    Cycling does in season; a scan narrows it.

    References
    ----------
    judgement; merck_estrus for the cycle
    """
    check(window_d=window_d)
    missed = _missed(window_d)
    return tuple((missed / missed.sum()).tolist())


@equation
def settling_chance(window_d: int) -> float:
    """Chance that she settles at all in an exposure.

    Parameters
    ----------
    window_d : scalar [d], 1 to 200

    Returns
    -------
    scalar [ratio]

    References
    ----------
    judgement; merck_estrus for the cycle
    """
    return float(_missed(window_d).sum()) * P["conception"] / P["cycle_d"]


def _missed(window_d: int) -> Days:
    missed: Days = np.power(1 - P["conception"], np.arange(window_d) // P["cycle_d"])
    return missed
