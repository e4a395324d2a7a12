"""Phosphorus: absorbed need, and the diet that supplies it."""

from __future__ import annotations

from ..base.arrays import Num
from ..base.record import equation
from ..base.validity import check
from ..parameters import values
from .mineral_deposition import deposition_share

P = values("minerals")


@equation
def phosphorus_intake_inra(dmi_kg: Num) -> Num:
    """The part of absorbed phosphorus for maintenance that goes with what she eats.

    Equation: 0.905 DMI

    Parameters
    ----------
    dmi_kg : scalar or 1-D, n days [kg DM/d], 0 to 8

    Returns
    -------
    scalar or 1-D, n days [g/d]

    Raises
    ------
    OutOfRange : dmi_kg outside its range

    References
    ----------
    inra_hardy
    """
    check(dmi_kg=dmi_kg)
    return P["p_per_kg_dm"] * dmi_kg


@equation
def phosphorus_body_inra(body_weight_kg: Num) -> Num:
    """The part of absorbed phosphorus for maintenance that does not depend on intake.

    Equation: 0.3 + 0.002 BW

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140

    Returns
    -------
    scalar or 1-D, n days [g/d]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    References
    ----------
    inra_hardy
    """
    check(body_weight_kg=body_weight_kg)
    return P["p_base_g"] + P["p_per_kg_bw"] * body_weight_kg


@equation
def phosphorus_milk_inra(milk_kg: Num) -> Num:
    """Absorbed phosphorus for milk.

    Equation: 0.95 milk

    Parameters
    ----------
    milk_kg : scalar or 1-D, n days [kg/d], 0 to 12

    Returns
    -------
    scalar or 1-D, n days [g/d]

    Raises
    ------
    OutOfRange : milk_kg outside its range

    References
    ----------
    inra_hardy
    """
    check(milk_kg=milk_kg)
    return P["p_per_kg_milk"] * milk_kg


@equation
def phosphorus_pregnancy(gestation_day: Num, litter_kg: Num, gestation_length_d: float = 150) -> Num:
    """Absorbed phosphorus for the litter.

    Equation: 6.0 W g(t)

    Parameters
    ----------
    gestation_day : scalar or 1-D, n days [d], 0 to 165
    litter_kg : scalar [kg], 0.5 to 20
    gestation_length_d : scalar [d], 140 to 160

    Returns
    -------
    scalar or 1-D, n days [g/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    ferreira_kids; afrc1993
    """
    check(litter_kg=litter_kg)
    return P["p_per_kg_litter"] * litter_kg * deposition_share(gestation_day, gestation_length_d)


@equation
def phosphorus_growth(gain_g: Num) -> Num:
    """Absorbed phosphorus for growth.

    Equation: 7 g per kg gain

    Parameters
    ----------
    gain_g : scalar or 1-D, n days [g/d], 0 to 350

    Returns
    -------
    scalar or 1-D, n days [g/d]

    Raises
    ------
    OutOfRange : gain_g outside its range

    References
    ----------
    ferreira_kids
    """
    check(gain_g=gain_g)
    return P["p_per_kg_gain"] * gain_g / 1000


@equation
def phosphorus_diet(absorbed_g: Num) -> Num:
    """Phosphorus in the diet that supplies an absorbed need.

    Equation: absorbed / 0.65

    Parameters
    ----------
    absorbed_g : scalar or 1-D, n days [g/d]

    Returns
    -------
    scalar or 1-D, n days [g/d]

    References
    ----------
    inra_hardy
    """
    return absorbed_g / P["p_absorption"]
