"""Energy in milk, fat correction, and the milk to expect."""

from __future__ import annotations

from ..base.arrays import Num, exp, power
from ..base.record import equation
from ..base.validity import check
from ..parameters import values

P = values("lactation")


@equation
def milk_energy_nsahlai2004(fat_pct: Num) -> Num:
    """Energy in goat milk.

    Equation: 1.4694 + 0.4025 x fat %

    Parameters
    ----------
    fat_pct : scalar or 1-D, n days [%], 1.5 to 11

    Returns
    -------
    scalar or 1-D, n days [MJ/kg]

    Raises
    ------
    OutOfRange : fat_pct outside its range

    References
    ----------
    nsahlai2004_energy, abstract
    """
    check(fat_pct=fat_pct)
    return P["milk_energy_base_mj"] + P["milk_energy_per_fat_mj"] * fat_pct


@equation
def fat_corrected_milk(milk_kg: Num, fat_pct: Num) -> Num:
    """Milk of 4 % fat with the same energy.

    Equation: FCM = milk x (1.4694 + 0.4025 fat) / 3.0794

    Parameters
    ----------
    milk_kg : scalar or 1-D, n days [kg/d], 0 to 12
    fat_pct : scalar or 1-D, n days [%], 1.5 to 11

    Returns
    -------
    scalar or 1-D, n days [kg/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    nsahlai2004_energy, abstract
    """
    check(milk_kg=milk_kg)
    return milk_kg * milk_energy_nsahlai2004(fat_pct) / milk_energy_nsahlai2004(P["fcm_fat_pct"])


@equation
def lactation_energy_nsahlai2004(fcm_kg: Num) -> Num:
    """Metabolizable energy for milk.

    Equation: ME = 5.195 MJ x FCM

    Parameters
    ----------
    fcm_kg : scalar or 1-D, n days [kg/d], 0 to 18

    Returns
    -------
    scalar or 1-D, n days [kJ/d]

    Raises
    ------
    OutOfRange : fcm_kg outside its range

    References
    ----------
    nsahlai2004_energy, abstract
    """
    check(fcm_kg=fcm_kg)
    return 1000 * P["me_per_fcm_mj"] * fcm_kg


@equation
def milk_curve_wood(days_in_milk: Num, total_305_kg: float, first: bool) -> Num:
    """Milk to expect on a day of lactation.

    Equation: y = a t^b exp(-c t), a = total / sum of t^b exp(-c t) over 305 days

    Parameters
    ----------
    days_in_milk : scalar or 1-D, n days [d], 0 to 800
    total_305_kg : scalar [kg], 50 to 2500
    first : first lactation

    Returns
    -------
    scalar or 1-D, n days [kg/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    A constructed shape (peak day 45 grown, 55 first), not a published fit; her own weighings rescale it.

    References
    ----------
    judgement
    """
    check(days_in_milk=days_in_milk, total_305_kg=total_305_kg)
    kind = "first" if first else "grown"
    shape = power(days_in_milk, P[f"wood_b_{kind}"]) * exp(-P[f"wood_c_{kind}"] * days_in_milk)
    return total_305_kg / P[f"wood_sum_{kind}"] * shape


@equation
def litter_milk_share(kids: int) -> float:
    """Milk after a litter of this size against the breed mean.

    Parameters
    ----------
    kids : scalar [kids], 0 for not known

    Returns
    -------
    scalar [ratio]

    References
    ----------
    delgado2020
    """
    names = {0: "", 1: "single_share", 2: "twin_share"}
    name = names.get(kids, "many_share")
    return P[name] if name else 1.0
