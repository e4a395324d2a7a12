"""What a doe can be expected to eat."""

from __future__ import annotations

import numpy as np

from ..base.arrays import Num, maximum, minimum, power
from ..base.record import equation
from ..base.validity import check
from ..needs.maintenance import metabolic_weight
from ..parameters import values

P = values("intake")


@equation
def appetite_dry(body_weight_kg: Num) -> Num:
    """Dry matter an open doe out of milk eats when hay is before her.

    Equation: 0.060 kg x BW^0.75

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140; maternal

    Returns
    -------
    scalar or 1-D, n days [kg DM/d]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    Validity
    --------
    Hay as it comes: on poor grass hay 0.040 to 0.050, on good or pelleted legume 0.070.

    References
    ----------
    quick_dehority1986; hadjigeorgiou2003; aguiar2006; nrc1981; kawas1999; goatgyan; agroscope_goat; wad_intake
    """
    return P["dry_kg_mbw"] * metabolic_weight(body_weight_kg)


@equation
def appetite_carrying(body_weight_kg: Num, gestation_day: Num, gestation_length_d: float) -> Num:
    """Dry matter a grown doe out of milk eats while she carries, before the fall of the last four weeks.

    Equation: (0.060 + 0.0098 (t / T)^2) kg x BW^0.75, T the day four weeks before kidding, held past it

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140; maternal
    gestation_day : scalar or 1-D, n days [d], 0 to 165
    gestation_length_d : scalar [d], 140 to 160

    Returns
    -------
    scalar or 1-D, n days [kg DM/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    wad_intake; judgement for the shape
    """
    check(gestation_day=gestation_day, gestation_length_d=gestation_length_d)
    along = minimum(1.0, gestation_day / (gestation_length_d - P["fall_d"]))
    rise = P["carrying_rise_kg_mbw"] * power(along, P["carrying_power"])
    return appetite_dry(body_weight_kg) + rise * metabolic_weight(body_weight_kg)


@equation
def appetite_growing(body_weight_kg: Num) -> Num:
    """Dry matter a growing doeling eats on good hay.

    Equation: 0.078 kg x BW^0.75

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140

    Returns
    -------
    scalar or 1-D, n days [kg DM/d]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    Validity
    --------
    No goat equation could be read; the ceiling is 75 to 80 g.

    References
    ----------
    judgement
    """
    return P["growing_kg_mbw"] * metabolic_weight(body_weight_kg)


@equation
def appetite_milk_base(body_weight_kg: Num, size: str) -> Num:
    """Dry matter a milking doe eats before the part that goes with her milk.

    Equation: 0.070 kg x BW^0.75, miniatures 0.085

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140
    size : "standard" or "mini"

    Returns
    -------
    scalar or 1-D, n days [kg DM/d]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    Validity
    --------
    Dwarf does reach 140 g/kg MBW in all at the peak of lactation.

    References
    ----------
    agroscope_goat; wad_intake
    """
    return P[f"milk_base_{size}_kg_mbw"] * metabolic_weight(body_weight_kg)


@equation
def appetite_milk(fcm_kg: Num) -> Num:
    """Dry matter that goes with milk.

    Equation: 0.29 kg x FCM

    Parameters
    ----------
    fcm_kg : scalar or 1-D, n days [kg/d], 0 to 18

    Returns
    -------
    scalar or 1-D, n days [kg DM/d]

    Raises
    ------
    OutOfRange : fcm_kg outside its range

    References
    ----------
    agroscope_goat
    """
    check(fcm_kg=fcm_kg)
    return P["per_kg_fcm"] * fcm_kg


@equation
def fall_depth(litter: float) -> float:
    """How far appetite has fallen at kidding.

    Equation: 0.25 single, 0.35 twins, 0.40 three or more; between along straight lines

    Parameters
    ----------
    litter : scalar [kids], 1 to 6

    Returns
    -------
    scalar [ratio]

    Raises
    ------
    OutOfRange : litter outside its range

    References
    ----------
    solaiman2010; agroscope_goat
    """
    check(litter=litter)
    return float(np.interp(litter, (1, 2, 3), (P["fall_1"], P["fall_2"], P["fall_3"])))


@equation
def late_appetite_share(days_to_kidding: Num, litter: float) -> Num:
    """Appetite left in the last four weeks: a straight fall to kidding, held past it.

    Parameters
    ----------
    days_to_kidding : scalar or 1-D, n days [d], -30 to 200
    litter : scalar [kids], 1 to 6

    Returns
    -------
    scalar or 1-D, n days [ratio]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    solaiman2010; agroscope_goat
    """
    check(days_to_kidding=days_to_kidding)
    along = maximum(0.0, minimum(1.0, 1 - days_to_kidding / P["fall_d"]))
    return 1 - fall_depth(litter) * along


@equation
def fresh_appetite_share(days_in_milk: Num, litter: float) -> Num:
    """Appetite after kidding: back from the late fall in two weeks, a tenth short for two months.

    Parameters
    ----------
    days_in_milk : scalar or 1-D, n days [d], 0 to 800
    litter : scalar [kids], 1 to 6

    Returns
    -------
    scalar or 1-D, n days [ratio]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    agroscope_goat; judgement for the two weeks
    """
    check(days_in_milk=days_in_milk)
    days = (0.0, P["fresh_rise_d"], P["fresh_until_d"] - P["fresh_rise_d"], P["fresh_until_d"])
    shares = (1 - fall_depth(litter), P["fresh_share"], P["fresh_share"], 1.0)
    return np.interp(np.asarray(days_in_milk, dtype=np.float64), days, shares)
