"""What the litter asks of the doe: energy and protein by day, and what it weighs."""

from __future__ import annotations

import numpy as np

from .arrays import Num, exp, minimum, power
from .parameters import values
from .validity import check

P = values("pregnancy")
LN10 = 2.302585092994046


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


def conceptus_energy_gain_afrc1993(gestation_day: Num, litter_kg: Num, gestation_length_d: float = 147) -> Num:
    """Energy laid down in the gravid uterus per day: the slope of conceptus_energy_afrc1993.

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


def gravid_uterus_freer2007(gestation_day: Num, litter_kg: Num, gestation_length_d: float = 150) -> Num:
    """Weight of the gravid uterus.

    Equation: ln W = 5.17 - 8.38 exp(-0.00608 t) for a 4 kg lamb, scaled by litter weight

    Parameters
    ----------
    gestation_day : scalar or 1-D, n days [d], 0 to 165
    litter_kg : scalar [kg], 0.5 to 20
    gestation_length_d : scalar [d], 140 to 160

    Returns
    -------
    scalar or 1-D, n days [kg]

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    Sheep curve; at term 0.66 kg of litter per kg, goats about 0.60.

    References
    ----------
    freer2007
    """
    check(litter_kg=litter_kg)
    t = curve_day(gestation_day, gestation_length_d, P["uterus_term_d"])
    return litter_kg / P["curve_kid_kg"] * exp(P["uterus_top"] - P["uterus_depth"] * exp(-P["uterus_rate"] * t))


def kid_factor(litter: float) -> float:
    """Birth weight of one kid of a litter against a twin; between whole litters along a straight line.

    Parameters
    ----------
    litter : scalar [kids], 1 to 6; four and more count as four

    Returns
    -------
    scalar [ratio]

    Raises
    ------
    OutOfRange : litter outside its range

    References
    ----------
    robinson1977
    """
    check(litter=litter)
    counts = (1, 2, 3, 4)
    return float(np.interp(litter, counts, [P[f"kid_factor_{kids}"] for kids in counts]))


def litter_share(litter: float, size: str) -> float:
    """Birth weight of the whole litter as a share of maternal weight, when no kid weight is known.

    Equation: kids x twin share (0.055 standard, 0.045 miniature) x kid factor

    Parameters
    ----------
    litter : scalar [kids], 1 to 6
    size : "standard" or "mini"

    Returns
    -------
    scalar [ratio]

    Raises
    ------
    OutOfRange : litter outside its range

    References
    ----------
    amoah1996; ndgsa; robinson1977
    """
    return litter * P[f"twin_kid_share_{size}"] * kid_factor(litter)


def litter_prior(size: str, breed: str, kidding: int) -> float:
    """Kids to expect when nobody has counted.

    Parameters
    ----------
    size : "standard" or "mini"
    breed : breed code
    kidding : scalar [1], her how-manieth kidding this will be, from 1

    Returns
    -------
    scalar [kids]

    Validity
    --------
    Judged from several breeds' means by parity; mini crosses and pygmies sit with the dwarf first kidding.

    References
    ----------
    amoah1996; hagan2014
    """
    if size == "standard":
        return P[f"litter_standard_{min(max(kidding, 1), 3)}"]
    if breed == "pygmy":
        return P["litter_dwarf_1"]
    return P[f"litter_dwarf_{min(max(kidding, 1), 2)}"]


def maternal_weight(seen_kg: float, gestation_day: float, share_of_maternal: float, length_d: float, how: str) -> float:
    """Her own weight behind a weight taken while she carries.

    Equation: seen / (1 + s x litter share x uterus per kg litter), s = 1 on a scale, 0.5 by tape

    Parameters
    ----------
    seen_kg : scalar [kg], 5 to 140
    gestation_day : scalar [d], 0 to 165
    share_of_maternal : scalar [ratio], litter birth weight per kg of her own weight
    length_d : scalar [d], 140 to 160
    how : "scale" or "tape"

    Returns
    -------
    scalar [kg]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    freer2007; judgement for the tape
    """
    check(body_weight_kg=seen_kg)
    per_litter_kg = gravid_uterus_freer2007(gestation_day, 1.0, length_d)
    seen_share = 1.0 if how == "scale" else P["tape_share"]
    return float(seen_kg / (1 + seen_share * share_of_maternal * per_litter_kg))


def floor_allowance(body_weight_maintenance_kj: Num, pregnancy_kj: Num, share: float) -> Num:
    """Practical late floor scaled to her own litter: low maintenance plus a share of the litter's demand.

    Equation: 450 kJ x BW^0.75 + share x conceptus ME; 0.46 reproduces 600 kJ x BW^0.75 for twins in month 5

    Parameters
    ----------
    body_weight_maintenance_kj : scalar or 1-D, n days [kJ/d], by maintenance_gfe2003
    pregnancy_kj : scalar or 1-D, n days [kJ/d], by pregnancy_energy_afrc1993
    share : scalar [ratio], 0 to 1

    Returns
    -------
    scalar or 1-D, n days [kJ/d]

    Raises
    ------
    OutOfRange : share outside its range

    References
    ----------
    gfe2003, Table 1, month 5
    """
    check(share=share)
    return body_weight_maintenance_kj + share * pregnancy_kj


def floor_eatable(appetite_kg: Num, grain_kg: float, grain_share: float, grain_kj_kg: float, hay_kj_kg: float) -> Num:
    """The most energy her appetite can hold: best hay and all the grain the limits permit.

    Parameters
    ----------
    appetite_kg : scalar or 1-D, n days [kg DM/d]
    grain_kg : scalar [kg DM/d], daily limit
    grain_share : scalar [ratio], limit as a share of what she eats
    grain_kj_kg : scalar [kJ/kg DM], 3000 to 36000
    hay_kj_kg : scalar [kJ/kg DM], 3000 to 36000

    Returns
    -------
    scalar or 1-D, n days [kJ/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    judgement
    """
    check(dmi_kg=appetite_kg, share=grain_share)
    check(me_kj_kg=grain_kj_kg)
    check(me_kj_kg=hay_kj_kg)
    grain = minimum(appetite_kg * grain_share, grain_kg)
    return grain * grain_kj_kg + (appetite_kg - grain) * hay_kj_kg
