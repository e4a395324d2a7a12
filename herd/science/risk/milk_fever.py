"""Milk fever: which doe to look at first from six weeks before kidding to ten weeks after."""

from __future__ import annotations

from collections.abc import Iterator

from ..base.record import equation
from ..base.validity import check
from .factors import Factor, P, factor, gravest_first


@equation
def milk_fever_factors(litter: float, kidding: int, previous: bool, milk_kg: float | None) -> tuple[Factor, ...]:
    """What of her risk of milk fever stands still for weeks; the phone adds what changes by the day.

    Equation: sum of points; alert from 3, urgent from 5; wobbly, cold-eared or down is urgent by itself

    Parameters
    ----------
    litter : scalar [kids], 1 to 6
    kidding : scalar [kiddings], which one of hers comes next or came last
    previous : she had it before
    milk_kg : scalar [kg/d], 0 to 12, most milk expected; None when she carries nothing

    Returns
    -------
    Factors [points], gravest first

    Raises
    ------
    OutOfRange : a figure outside its range

    Validity
    --------
    Not validated. Sources disagree whether goats fall ill before or after kidding and whether lucerne helps or harms.

    References
    ----------
    merck_milk_fever; pvamu_milk_fever; wilkens_goats; abga_vet_note; judgement
    """
    check(litter=litter)
    if milk_kg is not None:
        check(milk_kg=milk_kg)
    return gravest_first(_factors(litter, kidding, previous, milk_kg))


def _factors(litter: float, kidding: int, previous: bool, milk_kg: float | None) -> Iterator[Factor]:
    if litter >= P["triplets_from"]:
        yield factor("triplets", "mf_triplets")
    elif litter >= P["twins_from"]:
        yield factor("twins", "mf_twins")
    if kidding >= P["mf_older_from"]:
        yield factor("older", "mf_older")
    if previous:
        yield factor("had_it_before", "mf_previous")
    if milk_kg is not None and milk_kg > P["mf_yield_kg"]:
        yield factor("heavy_milk", "mf_yield")
