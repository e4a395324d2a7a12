"""A water test: the band of each figure, and what the water brings as intake."""

from __future__ import annotations

from collections.abc import Mapping

from ..base.arrays import Num
from ..base.record import equation
from ..base.validity import check
from ..parameters import values
from .portions import WATER, Portion

P = values("water")
C = values("card")
TESTED = ("tds", "sulfate", "nitrate_n", "nitrite", "fe", "mn", "ca", "mg", "mo", "cu", "chloride")
BANDS = ("unknown", "green", "amber", "red", "stop")
# What a water test names, and the element it feeds on the card.
MATERIAL = ("fe", "ca", "mg", "na")
# What water brings too little of to change a total: left out unless it was tested.
IMMATERIAL = ("k", "mn", "cu", "zn", "se", "co", "i", "mo")


@equation
def water_band(tested: str, mg_l: float | None) -> str:
    """The band of one figure of a water test.

    Parameters
    ----------
    tested : one of TESTED
    mg_l : scalar [mg/L], 0 to 100000; None for not tested

    Returns
    -------
    one of BANDS

    Raises
    ------
    OutOfRange : mg_l outside its range

    Validity
    --------
    Cattle and sheep figures for iron, manganese and molybdenum; nitrate kept stricter for carrying does.

    References
    ----------
    msu_water; ndsu_water; sdsu_water; kansas_water; vic_water; beede_water; texas_water; anzecc2000
    """
    if mg_l is None:
        return "unknown"
    check(water_mg_l=mg_l)
    if mg_l > P.get(f"{tested}_stop", float("inf")):
        return "stop"
    if mg_l > P[f"{tested}_red"]:
        return "red"
    return "amber" if mg_l >= P[f"{tested}_amber"] else "green"


def read_water(test: Mapping[str, float | None]) -> dict[str, str]:
    """Every band of a water test; what was not tested reads unknown.

    Parameters
    ----------
    test : mg/L by name; names not in TESTED (hardness, pH) have no band

    Returns
    -------
    band by name, in the order of TESTED

    Raises
    ------
    OutOfRange : a figure outside its range
    """
    return {tested: water_band(tested, test.get(tested)) for tested in TESTED}


@equation
def sulfur_from_sulfate(sulfate_mg: Num) -> Num:
    """Sulfur in sulfate.

    Equation: 0.334 x sulfate

    Parameters
    ----------
    sulfate_mg : scalar or 1-D [mg]

    Returns
    -------
    scalar or 1-D [mg]
    """
    return C["sulfur_in_sulfate"] * sulfate_mg


@equation
def nitrate_from_nitrogen(nitrate_n_mg: Num) -> Num:
    """Nitrate from nitrate nitrogen: laboratories report either.

    Equation: 4.43 x nitrate-N

    Parameters
    ----------
    nitrate_n_mg : scalar or 1-D [mg]

    Returns
    -------
    scalar or 1-D [mg]
    """
    return C["nitrate_per_n"] * nitrate_n_mg


def water_portion(test: Mapping[str, float | None], drunk_l: float) -> Portion:
    """Water as a source on the card: sulfate as sulfur, chloride as chlorine, the rest as tested.

    Sulfate, chloride, iron, calcium, magnesium and sodium nobody tested are unknown; traces that water holds too little
    of to change a total count only when tested.

    Parameters
    ----------
    test : mg/L by name
    drunk_l : scalar [L/d], 0 to 2000

    Returns
    -------
    Portion

    Raises
    ------
    OutOfRange : drunk_l outside its range
    """
    check(drunk_l=drunk_l)
    sulfate = test.get("sulfate")
    holds = {element: test.get(element) for element in (*MATERIAL, *IMMATERIAL)}
    holds["s"] = None if sulfate is None else float(sulfur_from_sulfate(sulfate))
    holds["cl"] = test.get("chloride")
    untested = frozenset(element for element in IMMATERIAL if holds[element] is None)
    return Portion("water", WATER, drunk_l, holds, untested)
