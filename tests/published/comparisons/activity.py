"""What walking about costs a doe beyond the stirring in a pen that maintenance already holds."""

from __future__ import annotations

from herd.science.base.arrays import Num
from tests.published.comparisons.numbers import check, values

P = values("activity")
GROUNDS = ("pen", "paddock", "pasture", "hill")
SYSTEMS = ("recommended", "afrc", "nrc1981")
AFRC_GROUND = {"pen": "indoors", "paddock": "lowland", "pasture": "lowland", "hill": "hill"}
KJ_PER_J = 1 / 1000


def activity_factor(ground: str, system: str = "recommended") -> float:
    """Maintenance on this ground against maintenance in a pen.

    Equation: pen 1.00, paddock 1.10, pasture 1.25, hill 1.50; AFRC as (fasting + activity) / (fasting + indoors)

    Parameters
    ----------
    ground : one of GROUNDS
    system : one of SYSTEMS

    Returns
    -------
    scalar [ratio]

    Raises
    ------
    KeyError : a ground or system not listed

    Validity
    --------
    Systems differ twofold in what they add for the same ground; the 1981 scheme starts from a lower maintenance.

    References
    ----------
    agroscope_goat; ringdorfer2018; iasri_lactation; icar_page
    """
    if system == "afrc":
        return P[f"afrc_{AFRC_GROUND[ground]}"] / P["afrc_indoors"]
    return P[f"{system}_{ground}"]


def walking_cost(slope: float) -> float:
    """Heat of walking one metre on a slope.

    Equation: 3.35 + 31.7 x rise, or 3.35 - 13.2 x fall [J/kg/m]

    Parameters
    ----------
    slope : scalar [ratio, metres risen per metre walked, negative downhill], -0.3 to 0.3

    Returns
    -------
    scalar [J/kg/m]

    Raises
    ------
    OutOfRange : slope outside its range

    Accuracy
    --------
    Within 7 % of the printed slopes, but 15 % above the one of 5 % downhill.

    References
    ----------
    lachica1997, abstract
    """
    check(slope=slope)
    return P["walk_level_j"] + (P["walk_climb_j"] if slope > 0 else P["walk_descent_j"]) * slope


def walking_energy_lachica1997(body_weight_kg: Num, walked_km: Num, climbed_m: Num = 0.0) -> Num:
    """Heat of a day's walking, for a doe whose walk is known. Use it in place of an activity factor, never with one.

    Equation: BW x (3.35 x metres + 31.7 x metres risen) J; nothing is taken back for the way down

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140
    walked_km : scalar or 1-D, n days [km/d], 0 to 20
    climbed_m : scalar or 1-D, n days [m/d], 0 to 1500

    Returns
    -------
    scalar or 1-D, n days [kJ/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    Treadmill work with Granadina does of 35 kg; not divided by the efficiency of maintenance.

    References
    ----------
    lachica1997, abstract
    """
    check(body_weight_kg=body_weight_kg, walked_km=walked_km, climbed_m=climbed_m)
    level_j = P["walk_level_j"] * walked_km * 1000
    return KJ_PER_J * body_weight_kg * (level_j + P["walk_climb_j"] * climbed_m)
