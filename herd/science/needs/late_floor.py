"""The late floor: what a doe near kidding must get, no more than she can eat."""

from __future__ import annotations

from ..base.arrays import Num, minimum
from ..base.record import equation
from ..base.validity import check


@equation
def floor_allowance(body_weight_maintenance_kj: Num, pregnancy_kj: Num, share: float) -> Num:
    """Practical late floor scaled to her own litter: low maintenance plus a share of the litter's demand.

    Equation: 450 kJ x BW^0.75 + share x conceptus ME; 0.46 reproduces 600 kJ x BW^0.75 for twins in month 5

    Parameters
    ----------
    body_weight_maintenance_kj : scalar or 1-D, n days [kJ/d], by the German table
    pregnancy_kj : scalar or 1-D, n days [kJ/d], the litter's full demand
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


@equation
def floor_eatable(appetite_kg: Num, grain_kg: Num, grain_share: float, grain_kj_kg: float, hay_kj_kg: float) -> Num:
    """The most energy her appetite can hold: best hay and all the grain the limits permit.

    Parameters
    ----------
    appetite_kg : scalar or 1-D, n days [kg DM/d]
    grain_kg : scalar or 1-D, n days [kg DM/d], daily limit
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
