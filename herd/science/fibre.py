"""Enough fibre to chew, not more than she can hold; and calcium in proportion to phosphorus."""

from __future__ import annotations

from .arrays import Num
from .errors import MissingInput
from .limits import forage_floor
from .maintenance import metabolic_weight
from .parameters import values
from .validity import check

P = values("fibre")
NDF_BANDS = ("red", "amber", "near", "level")
CA_P_BANDS = ("red_low", "amber_low", "level", "amber_high", "high", "red_high")
LOW_CONFIDENCE = ("ndf_ceiling",)


def ndf_band(ndf_pct: float) -> str:
    """How a whole diet stands for fibre.

    Equation: red below 30 %, amber below 35, near below 38, level from 38

    Parameters
    ----------
    ndf_pct : scalar [% DM], 0 to 100, forage and grain together

    Returns
    -------
    one of NDF_BANDS

    Raises
    ------
    OutOfRange : ndf_pct outside its range

    References
    ----------
    lu2005; judgement
    """
    check(ndf_pct=ndf_pct)
    for name, below in (("red", P["ndf_red_pct"]), ("amber", P["ndf_amber_pct"]), ("near", P["ndf_target_pct"])):
        if ndf_pct < below:
            return name
    return "level"


def forage_gap(forage_dm_g: float, body_weight_kg: float) -> float:
    """Forage still missing to the floor, zero when there is enough.

    Equation: 15 g DM per kg less what she eats

    Parameters
    ----------
    forage_dm_g : scalar [g DM/d]
    body_weight_kg : scalar [kg], 5 to 140

    Returns
    -------
    scalar [g DM/d]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    Validity
    --------
    Where appetite allows: triplet does may not reach it; flag it, do not force it.

    References
    ----------
    extension_grain
    """
    return max(0.0, forage_floor(body_weight_kg) - forage_dm_g)


def ndf_ceiling(body_weight_kg: Num, appetite_share: Num = 1.0) -> Num:
    """The most fibre a dry doe can be expected to hold; low confidence, for a remark and never for a verdict.

    Equation: 42 g NDF x BW^0.75 x appetite left

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140
    appetite_share : scalar or 1-D, n days [ratio], 0 to 1, from intake.late_appetite_share

    Returns
    -------
    scalar or 1-D, n days [g NDF/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    No goat ceiling was found; the cattle rule of 1.2 % of body weight is too strict for goats, who sort.

    References
    ----------
    judgement
    """
    check(share=appetite_share)
    return P["ndf_ceiling_g_mbw"] * metabolic_weight(body_weight_kg) * appetite_share


def ca_to_p(ca_g: float | None, p_g: float | None) -> float:
    """Calcium per phosphorus of a whole diet.

    Parameters
    ----------
    ca_g : scalar [g/d], None for not wholly known
    p_g : scalar [g/d], None for not wholly known

    Returns
    -------
    scalar [ratio]

    Raises
    ------
    MissingInput : either is unknown, or there is no phosphorus

    References
    ----------
    solaiman2010
    """
    if ca_g is None:
        raise MissingInput("ca_g")
    if not p_g:
        raise MissingInput("p_g")
    return ca_g / p_g


def ca_p_band(ratio: float, male: bool = False) -> str:
    """How a whole diet stands for calcium to phosphorus.

    Equation: red below 1.2, amber to 1.5, level to 2.5, amber to 4, high to 7, red above; males level from 2

    Parameters
    ----------
    ratio : scalar [ratio], 0 to 100
    male : bucks and wethers, who make stones

    Returns
    -------
    one of CA_P_BANDS

    Raises
    ------
    OutOfRange : ratio outside its range

    References
    ----------
    goats_extension_p; solaiman2010; judgement
    """
    check(ca_p_ratio=ratio)
    level_low = P["cap_male_low"] if male else P["cap_level_low"]
    if ratio < P["cap_red_low"]:
        return "red_low"
    if ratio < level_low:
        return "amber_low"
    for name, upto in (("level", "cap_level_high"), ("amber_high", "cap_amber_high"), ("high", "cap_red_high")):
        if ratio <= P[upto]:
            return name
    return "red_high"
