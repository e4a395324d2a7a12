"""Growth of doelings and young does."""

from __future__ import annotations

from ..base.arrays import Num, exp, maximum, minimum
from ..base.record import equation
from ..base.validity import check
from ..parameters import values

P = values("growth")
M = values("maintenance")


@equation
def gain_energy_sahlu2004(gain_g: Num) -> Num:
    """Metabolizable energy for gain of a growing dairy goat.

    Equation: ME = 23.1 kJ x gain

    Parameters
    ----------
    gain_g : scalar or 1-D, n days [g/d], 0 to 350

    Returns
    -------
    scalar or 1-D, n days [kJ/d]

    Raises
    ------
    OutOfRange : gain_g outside its range

    References
    ----------
    sahlu2004, abstract
    """
    check(gain_g=gain_g)
    return P["gain_growing_kj_g"] * gain_g


@equation
def gain_energy(gain_g: Num, body_weight_kg: Num, mature_weight_kg: float) -> Num:
    """Metabolizable energy for gain, from growing to mature tissue over the last quarter of growth.

    Parameters
    ----------
    gain_g : scalar or 1-D, n days [g/d], 0 to 350
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140
    mature_weight_kg : scalar [kg], 10 to 140

    Returns
    -------
    scalar or 1-D, n days [kJ/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    sahlu2004, abstract; judgement for the slide
    """
    check(body_weight_kg=body_weight_kg, mature_weight_kg=mature_weight_kg)
    young = M["growing_until_share"]
    share = maximum(0.0, minimum(1.0, (body_weight_kg / mature_weight_kg - young) / (1 - young)))
    extra = P["gain_mature_kj_g"] - P["gain_growing_kj_g"]
    return gain_energy_sahlu2004(gain_g) + share * extra * gain_g


@equation
def expected_gain(body_weight_kg: Num, mature_weight_kg: float) -> Num:
    """Daily gain of a well-grown doeling on her way to mature weight.

    Equation: 0.0035 x (mature - weight) kg/d, nothing at or above mature weight

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140
    mature_weight_kg : scalar [kg], 10 to 140

    Returns
    -------
    scalar or 1-D, n days [g/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    Fitted to French targets from weaning to one year.

    References
    ----------
    fidocl
    """
    check(body_weight_kg=body_weight_kg, mature_weight_kg=mature_weight_kg)
    return 1000 * P["approach_per_d"] * maximum(0.0, mature_weight_kg - body_weight_kg)


@equation
def grown_weight(body_weight_kg: float, mature_weight_kg: float, span_d: Num) -> Num:
    """Weight some days on, at the expected gain.

    Equation: mature - (mature - weight) x exp(-0.0035 d); unchanged at or above mature weight

    Parameters
    ----------
    body_weight_kg : scalar [kg], 5 to 140
    mature_weight_kg : scalar [kg], 10 to 140
    span_d : scalar or 1-D, n days [d], -400 to 7300

    Returns
    -------
    scalar or 1-D, n days [kg]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    fidocl
    """
    check(body_weight_kg=body_weight_kg, mature_weight_kg=mature_weight_kg, span_d=span_d)
    missing = max(0.0, mature_weight_kg - body_weight_kg)
    return body_weight_kg + missing * (1 - exp(-P["approach_per_d"] * span_d))


@equation
def weight_at_age(age_d: Num, mature_weight_kg: float) -> Num:
    """Weight of a well-grown doeling at an age.

    Parameters
    ----------
    age_d : scalar or 1-D, n days [d], 0 to 7300
    mature_weight_kg : scalar [kg], 10 to 140

    Returns
    -------
    scalar or 1-D, n days [kg]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    fidocl
    """
    check(age_d=age_d, mature_weight_kg=mature_weight_kg)
    return mature_weight_kg * (1 - (1 - P["birth_share"]) * exp(-P["approach_per_d"] * age_d))


@equation
def is_grown(body_weight_kg: float, mature_weight_kg: float, age_d: float | None) -> bool:
    """Whether she still has growing to do: by age when known, by weight otherwise.

    Parameters
    ----------
    body_weight_kg : scalar [kg], 5 to 140
    mature_weight_kg : scalar [kg], 10 to 140
    age_d : scalar [d] or None

    Returns
    -------
    bool

    References
    ----------
    judgement
    """
    if age_d is not None and age_d >= P["grown_age_d"]:
        return True
    return body_weight_kg >= P["grown_share"] * mature_weight_kg
