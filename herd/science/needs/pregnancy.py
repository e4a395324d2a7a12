"""What the litter asks of the doe: energy and protein by day."""

from __future__ import annotations

from ..base.arrays import Num, exp, power
from ..base.record import equation
from ..base.validity import check
from ..parameters import values

P = values("pregnancy")
LN10 = 2.302585092994046


@equation
def curve_day(gestation_day: Num, gestation_length_d: float, term_d: float) -> Num:
    """Day on a published curve's own clock for a breed with another gestation length.

    Equation: t x term / length

    Parameters
    ----------
    gestation_day : scalar or 1-D, n days [d], 0 to 165
    gestation_length_d : scalar [d], 140 to 160
    term_d : scalar [d], the curve's own term

    Returns
    -------
    scalar or 1-D, n days [d]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    judgement
    """
    check(gestation_day=gestation_day, gestation_length_d=gestation_length_d)
    return gestation_day * (term_d / gestation_length_d)


def _content(t: Num, kind: str, litter_kg: Num) -> Num:
    log10 = P[f"{kind}_top"] - P[f"{kind}_depth"] * exp(-P[f"{kind}_rate"] * t)
    return litter_kg / P["curve_kid_kg"] * power(10.0, log10)


def _gain(gestation_day: Num, kind: str, litter_kg: Num, gestation_length_d: float) -> Num:
    check(litter_kg=litter_kg)
    t = curve_day(gestation_day, gestation_length_d, P["curve_term_d"])
    slope = P[f"{kind}_depth"] * P[f"{kind}_rate"] * LN10 * exp(-P[f"{kind}_rate"] * t)
    return _content(t, kind, litter_kg) * slope * (P["curve_term_d"] / gestation_length_d)


@equation
def conceptus_energy_afrc1993(gestation_day: Num, litter_kg: Num, gestation_length_d: float = 147) -> Num:
    """Energy laid down so far in the gravid uterus.

    Equation: E = 0.25 W x 10^(3.322 - 4.979 exp(-0.00643 t)) MJ

    Parameters
    ----------
    gestation_day : scalar or 1-D, n days [d], 0 to 165
    litter_kg : scalar [kg], 0.5 to 20; birth weight of the whole litter
    gestation_length_d : scalar [d], 140 to 160

    Returns
    -------
    scalar or 1-D, n days [kJ]

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    Sheep curve used for goats; ewe slaughter data agree within 8 to 16 %.

    References
    ----------
    afrc1993; robinson1980
    """
    check(litter_kg=litter_kg)
    return 1000 * _content(curve_day(gestation_day, gestation_length_d, P["curve_term_d"]), "energy", litter_kg)


@equation
def conceptus_energy_gain_afrc1993(gestation_day: Num, litter_kg: Num, gestation_length_d: float = 147) -> Num:
    """Energy laid down in the gravid uterus per day: the slope of what is laid down so far.

    Equation: Ec = 0.25 W x E x 0.07372 exp(-0.00643 t) MJ/d

    Parameters
    ----------
    gestation_day : scalar or 1-D, n days [d], 0 to 165
    litter_kg : scalar [kg], 0.5 to 20
    gestation_length_d : scalar [d], 140 to 160

    Returns
    -------
    scalar or 1-D, n days [kJ/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    afrc1993
    """
    return 1000 * _gain(gestation_day, "energy", litter_kg, gestation_length_d)


@equation
def pregnancy_energy_afrc1993(gestation_day: Num, litter_kg: Num, gestation_length_d: float = 147) -> Num:
    """Metabolizable energy for the litter: the full physiological demand.

    Equation: ME = Ec / 0.133

    Parameters
    ----------
    gestation_day : scalar or 1-D, n days [d], 0 to 165
    litter_kg : scalar [kg], 0.5 to 20
    gestation_length_d : scalar [d], 140 to 160

    Returns
    -------
    scalar or 1-D, n days [kJ/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    Practical allowances are about half of this and accept body loss; a doe with twins cannot eat to it at term.

    References
    ----------
    afrc1993; robinson1980
    """
    return conceptus_energy_gain_afrc1993(gestation_day, litter_kg, gestation_length_d) / P["energy_efficiency"]


@equation
def conceptus_protein_gain_afrc1993(gestation_day: Num, litter_kg: Num, gestation_length_d: float = 147) -> Num:
    """Net protein laid down in the gravid uterus per day.

    Equation: NP = 0.25 W x TP x 0.06744 exp(-0.00601 t), TP = 10^(4.928 - 4.873 exp(-0.00601 t))

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
    afrc1993
    """
    return _gain(gestation_day, "protein", litter_kg, gestation_length_d)


@equation
def pregnancy_protein(gestation_day: Num, litter_kg: Num, gestation_length_d: float = 147) -> Num:
    """Metabolizable protein for the litter.

    Equation: MP = NP / 0.50

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

    Validity
    --------
    Published efficiencies run 0.33 to 0.85; 0.50 meets the French month-5 allowance.

    References
    ----------
    afrc1993; inra_leaflet
    """
    return conceptus_protein_gain_afrc1993(gestation_day, litter_kg, gestation_length_d) / P["protein_efficiency"]
