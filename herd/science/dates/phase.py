"""Phase and lane of a doe by day, from where she stands in gestation and lactation."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..base.arrays import Days
from ..base.record import equation

OPEN, EXPOSED, SETTLED, CARRYING_IN_MILK, DRYING_OFF, DRY, CLOSE_UP, WATCH, FRESH, IN_MILK, GROWING = range(11)
LANE_MILK, LANE_GROWN_DRY, LANE_FIRST, LANE_OPEN = range(4)
Codes = NDArray[np.int64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Stages:
    """Days of gestation (and, for fresh_d, of lactation) at which her phase changes."""

    settled_d: int
    drying_off_d: int
    dry_off_d: int
    close_up_d: int
    watch_d: int
    fresh_d: int


@equation
def close_up_day(length_d: int, size: str, first: bool, kids: int, score_x100: int, rule: CloseUp) -> int:
    """Day of gestation from which her feed is built up: late for a single or a fat miniature, early for many or thin.

    Parameters
    ----------
    length_d : scalar [d], gestation length
    size : "standard" or "mini"
    first : has never kidded
    kids : scalar [kids] counted, 0 when nobody has
    score_x100 : scalar [points x 100], last condition score, 0 when there is none
    rule : the herd's days

    Returns
    -------
    scalar [d of gestation]

    Validity
    --------
    Common practice as herd rules; unscanned grown miniatures run to twins and triplets.

    References
    ----------
    judgement
    """
    thin = 0 < score_x100 <= rule.thin_x100
    fat_mini = size == "mini" and score_x100 >= rule.fat_x100
    if kids >= 2 or thin:
        return length_d - rule.many_before_d
    if kids == 1 or fat_mini:
        return min(rule.single_d, length_d)
    if size == "mini" and not first:
        return length_d - rule.many_before_d
    return length_d - rule.usual_before_d


@dataclass(frozen=True)
class CloseUp:
    """The herd's close-up days: day of gestation for a single, days before kidding for the others, score limits."""

    single_d: int
    many_before_d: int
    usual_before_d: int
    thin_x100: int
    fat_x100: int


@equation
def phases(gest: Days, dim: Days, in_milk: Flags, first: bool, dried: bool, checked: bool, stages: Stages) -> Codes:
    """Phase by day.

    Parameters
    ----------
    gest : 1-D, n days [d of gestation], -1 where she is not carrying
    dim : 1-D, n days [d since kidding], -1 where she has not kidded
    in_milk : 1-D, n days
    first : has never kidded
    dried : was dried off in this pregnancy
    checked : found pregnant
    stages : days at which the phase changes

    Returns
    -------
    1-D, n days, phase codes

    References
    ----------
    judgement
    """
    carrying = gest >= 0
    waiting = carrying & (gest < stages.settled_d) & (not checked)
    milking = np.select(
        [~carrying & (dim < stages.fresh_d), ~carrying, waiting, gest < stages.drying_off_d],
        [FRESH, IN_MILK, EXPOSED, CARRYING_IN_MILK],
        DRYING_OFF,
    )
    rested = carrying & (not first) & (dried | (gest >= stages.dry_off_d))
    not_milking = np.select(
        [~carrying, gest >= stages.close_up_d, waiting & ~rested, rested],
        [GROWING if first else OPEN, CLOSE_UP, EXPOSED, DRY],
        SETTLED,
    )
    phase = np.where(in_milk, milking, not_milking)
    return np.where(carrying & (gest >= stages.watch_d), WATCH, phase).astype(np.int64)


@equation
def lanes(gest: Days, in_milk: Flags, young: bool) -> Codes:
    """Feeding lane by day.

    Parameters
    ----------
    gest : 1-D, n days [d of gestation], -1 where she is not carrying
    in_milk : 1-D, n days
    young : a first freshener still growing

    Returns
    -------
    1-D, n days, lane codes

    References
    ----------
    judgement
    """
    dry_lane = LANE_FIRST if young else LANE_GROWN_DRY
    return np.select([in_milk, gest >= 0], [LANE_MILK, dry_lane], LANE_OPEN).astype(np.int64)
