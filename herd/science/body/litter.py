"""How many kids, what they weigh, and what the womb weighs with them."""

from __future__ import annotations

import numpy as np

from ..base.arrays import Num, exp
from ..base.record import equation
from ..base.validity import check
from ..needs.pregnancy import curve_day
from ..parameters import values

P = values("pregnancy")


@equation
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


@equation
def kid_factor(litter: float, size: str) -> float:
    """Birth weight of one kid of a litter against a twin; between whole litters along a straight line.

    Parameters
    ----------
    litter : scalar [kids], 1 to 6; four and more count as four
    size : "standard" or "mini"

    Returns
    -------
    scalar [ratio]

    Raises
    ------
    OutOfRange : litter outside its range

    References
    ----------
    amoah1996; hagan2014 for miniatures
    """
    check(litter=litter)
    counts = (1, 2, 3, 4)
    return float(np.interp(litter, counts, [P[f"kid_factor_{size}_{kids}"] for kids in counts]))


@equation
def litter_share(litter: float, size: str, breed: str) -> float:
    """Birth weight of the whole litter as a share of maternal weight, when no kid weight is known.

    Equation: kids x twin share (0.055 standard, 0.052 miniature, 0.060 pygmy) x kid factor

    Parameters
    ----------
    litter : scalar [kids], 1 to 6
    size : "standard" or "mini"
    breed : breed code

    Returns
    -------
    scalar [ratio]

    Raises
    ------
    OutOfRange : litter outside its range

    Validity
    --------
    Her kidding is not asked: dwarf kids of a first kidding weigh what later ones do, and a young doe is light herself.

    References
    ----------
    amoah1996; hagan2014; ndgsa; ozoje2008
    """
    return litter * P[f"twin_kid_share_{'pygmy' if breed == 'pygmy' else size}"] * kid_factor(litter, size)


@equation
def litter_prior(size: str, breed: str, kidding: int) -> float:
    """Kids to expect when nobody has counted.

    Parameters
    ----------
    size : "standard" or "mini"
    breed : breed code
    kidding : scalar [1], which of her kiddings this will be, from 1

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


@equation
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
