"""Pregnancy toxemia: which doe to look at first in the last six weeks."""

from __future__ import annotations

from collections.abc import Iterator

from ..base.record import equation
from ..base.validity import check
from .factors import Factor, P, factor, gravest_first


@equation
def toxemia_factors(litter: float, previous: bool) -> tuple[Factor, ...]:
    """What of her risk of pregnancy toxemia stands still for weeks; the phone adds what changes by the day.

    Equation: sum of points; alert from 3, urgent from 5; off feed, down or ketones from 1.6 is urgent by itself

    Parameters
    ----------
    litter : scalar [kids], 1 to 6
    previous : she had it before

    Returns
    -------
    Factors [points], gravest first

    Raises
    ------
    OutOfRange : litter outside its range

    Validity
    --------
    Not validated. Directions from Dore 2015, Lima 2016, Murugeswari 2023 and extension text; the points are judgement.

    References
    ----------
    dore2015; lima2016; murugeswari2023; vijayanand2022; goat_extension_toxemia; merck_toxemia; judgement
    """
    check(litter=litter)
    return gravest_first(_factors(litter, previous))


def _factors(litter: float, previous: bool) -> Iterator[Factor]:
    if litter >= P["triplets_from"]:
        yield factor("triplets", "tox_triplets")
    elif litter >= P["twins_from"]:
        yield factor("twins", "tox_twins")
    if previous:
        yield factor("had_it_before", "tox_previous")
