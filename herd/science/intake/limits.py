"""How much grain is safe, how much forage is needed. Amounts as dry-grain equivalent: dry matter at that of grain."""

from __future__ import annotations

from ..base.arrays import Num
from ..base.record import equation
from ..base.validity import check
from ..parameters import values

P = values("limits")


@equation
def dry_grain(dm_g: float) -> float:
    """Dry-grain equivalent of a dry matter amount.

    Equation: DM / 0.89

    Parameters
    ----------
    dm_g : scalar [g DM]

    Returns
    -------
    scalar [g]

    References
    ----------
    preston_guide
    """
    return dm_g / P["grain_dm_share"]


@equation
def grain_per_meal(body_weight_kg: float) -> float:
    """Most grain in one meal.

    Equation: 7 g DM per kg, at most 450 g as fed

    Parameters
    ----------
    body_weight_kg : scalar [kg], 5 to 140

    Returns
    -------
    scalar [g dry-grain equivalent]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    Validity
    --------
    No goat trial of a per-meal limit exists.

    References
    ----------
    extension_grain
    """
    check(body_weight_kg=body_weight_kg)
    return min(P["meal_cap_g"], dry_grain(P["meal_g_kg"] * body_weight_kg))


@equation
def grain_per_day(body_weight_kg: Num, in_milk: bool) -> Num:
    """Most grain in one day.

    Equation: 10 g DM per kg dry and carrying, 20 in milk

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140
    in_milk : whether she is milking

    Returns
    -------
    scalar or 1-D, n days [g dry-grain equivalent]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    References
    ----------
    judgement
    """
    check(body_weight_kg=body_weight_kg)
    return dry_grain(P["day_milk_g_kg" if in_milk else "day_dry_g_kg"]) * body_weight_kg


@equation
def grain_share_of_dm(in_milk: bool) -> float:
    """Most grain as a share of what she eats.

    Parameters
    ----------
    in_milk : whether she is milking

    Returns
    -------
    scalar [ratio of DM]

    References
    ----------
    solaiman2010, Table 10.11
    """
    return P["day_milk_share" if in_milk else "day_dry_share"]


@equation
def grain_before_kidding(body_weight_kg: float, least_appetite_kg: float) -> float:
    """Grain to arrive at by kidding: within the published pre-kidding ceiling and her appetite at its lowest.

    Equation: least of 8 g DM per kg and 0.40 of intake

    Parameters
    ----------
    body_weight_kg : scalar [kg], 5 to 140
    least_appetite_kg : scalar [kg DM/d], 0 to 8

    Returns
    -------
    scalar [g dry-grain equivalent]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    morand_fehr; solaiman2010
    """
    check(body_weight_kg=body_weight_kg, dmi_kg=least_appetite_kg)
    most_dm_g = min(P["close_up_g_kg"] * body_weight_kg, 1000 * P["day_dry_share"] * least_appetite_kg)
    return dry_grain(most_dm_g)


@equation
def forage_floor(body_weight_kg: float) -> float:
    """Least forage in one day.

    Equation: 15 g DM per kg

    Parameters
    ----------
    body_weight_kg : scalar [kg], 5 to 140

    Returns
    -------
    scalar [g DM]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    Validity
    --------
    Where appetite allows: triplet does may not reach it.

    References
    ----------
    extension_grain
    """
    check(body_weight_kg=body_weight_kg)
    return P["forage_g_kg"] * body_weight_kg
