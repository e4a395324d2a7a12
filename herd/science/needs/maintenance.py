"""Metabolizable energy for maintenance."""

from __future__ import annotations

from ..base.arrays import Num, maximum, minimum, power
from ..base.record import equation
from ..base.validity import check
from ..parameters import values

P = values("maintenance")


@equation
def metabolic_weight(body_weight_kg: Num) -> Num:
    """Metabolic body weight.

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140

    Returns
    -------
    scalar or 1-D, n days [kg^0.75]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    References
    ----------
    luo2004_energy, abstract
    """
    check(body_weight_kg=body_weight_kg)
    return power(body_weight_kg, P["mbw_exponent"])


@equation
def maintenance_luo2004(body_weight_kg: Num) -> Num:
    """Maintenance of a mature dairy doe, pen activity included: do not add ten per cent again.

    Equation: ME = 501.3 kJ x BW^0.75

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140; maternal, conceptus excluded

    Returns
    -------
    scalar or 1-D, n days [kJ/d]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    Validity
    --------
    Mature dairy goats indoors; published adult values span 412 to 501.

    References
    ----------
    luo2004_energy, abstract
    """
    return P["mature_dairy_kj"] * metabolic_weight(body_weight_kg)


@equation
def maintenance_gfe2003(body_weight_kg: Num) -> Num:
    """Maintenance of a goat, dry or to month four of pregnancy, by the German table.

    Equation: ME = 450 kJ x BW^0.75 (reproduces the table)

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140; maternal, conceptus excluded

    Returns
    -------
    scalar or 1-D, n days [kJ/d]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    Validity
    --------
    Table rows 45, 60, 75 kg.

    References
    ----------
    gfe2003, Table 1
    """
    return P["gfe_kj"] * metabolic_weight(body_weight_kg)


@equation
def maintenance_growing(body_weight_kg: Num, mature_weight_kg: float) -> Num:
    """Maintenance of a growing doe: the growing figure, sliding to the adult one over her last quarter of growth.

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140
    mature_weight_kg : scalar [kg], 10 to 140

    Returns
    -------
    scalar or 1-D, n days [kJ/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    The slide is judgement: 580 to 75 % of mature weight, 501.3 at mature weight.

    References
    ----------
    sahlu2004, abstract; luo2004_energy, abstract; judgement
    """
    check(mature_weight_kg=mature_weight_kg)
    young = P["growing_until_share"]
    done = (body_weight_kg / mature_weight_kg - young) / (1 - young)
    share = maximum(0.0, minimum(1.0, done))
    coefficient = P["growing_dairy_kj"] + share * (P["mature_dairy_kj"] - P["growing_dairy_kj"])
    return coefficient * metabolic_weight(body_weight_kg)


def me_month_5_gfe2003(body_weight_kg: Num) -> Num:
    """Fifth month of pregnancy, whatever the litter: 600 kJ per kg0.75.

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140

    Returns
    -------
    scalar or 1-D, n days [kJ ME/d]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range
    """
    return P["gfe_month_5_kj"] * metabolic_weight(body_weight_kg)
