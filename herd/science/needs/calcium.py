"""Calcium: absorbed need, and the diet that supplies it."""

from __future__ import annotations

from ..base.arrays import Num
from ..base.record import equation
from ..base.validity import check
from ..parameters import values
from .mineral_deposition import deposition_share

P = values("minerals")


@equation
def calcium_intake_inra(dmi_kg: Num) -> Num:
    """The part of absorbed calcium for maintenance that goes with what she eats.

    Equation: 0.67 DMI

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
    return P["ca_per_kg_dm"] * dmi_kg


@equation
def calcium_body_inra(body_weight_kg: Num) -> Num:
    """The part of absorbed calcium for maintenance that does not depend on intake.

    Equation: 0.010 BW

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
    return P["ca_per_kg_bw"] * body_weight_kg


@equation
def calcium_milk_inra(milk_kg: Num) -> Num:
    """Absorbed calcium for milk.

    Equation: 1.25 milk

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
    return P["ca_per_kg_milk"] * milk_kg


@equation
def calcium_pregnancy(gestation_day: Num, litter_kg: Num, gestation_length_d: float = 150) -> Num:
    """Absorbed calcium for the litter.

    Equation: 11.5 W g(t)

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
    return P["ca_per_kg_litter"] * litter_kg * deposition_share(gestation_day, gestation_length_d)


@equation
def calcium_growth(gain_g: Num) -> Num:
    """Absorbed calcium for growth.

    Equation: 10 g per kg gain

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
    return P["ca_per_kg_gain"] * gain_g / 1000


@equation
def calcium_diet(absorbed_g: Num, absorption: float) -> Num:
    """Calcium in the diet that supplies an absorbed need, at the absorption the herd works with.

    Equation: absorbed / absorption

    Parameters
    ----------
    absorbed_g : scalar or 1-D, n days [g/d]
    absorption : scalar [ratio], 0.2 to 0.8

    Returns
    -------
    scalar or 1-D, n days [g/d]

    Raises
    ------
    OutOfRange : absorption outside its range

    Validity
    --------
    Published absorption runs 0.30 to 0.72; no calcium need is known better than 20 %.

    References
    ----------
    inra_hardy; meschy2002; nrc2007
    """
    check(absorption=absorption)
    return absorbed_g / absorption
