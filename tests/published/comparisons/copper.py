"""How much of copper a diet lets through."""

from __future__ import annotations

from herd.science.base.arrays import Num, power
from tests.published.comparisons.numbers import check, values

P = values("copper")


def copper_absorbability_suttle1976(mo_mg_kg: Num, s_g_kg: Num) -> Num:
    """Share of copper a sheep absorbs; compare two diets by it, never raise copper because of it.

    Equation: log10 A = -1.153 - 0.0019 Mo - 0.0755 S - 0.0131 Mo S

    Parameters
    ----------
    mo_mg_kg : scalar or 1-D [mg/kg DM], 0 to 25
    s_g_kg : scalar or 1-D [g/kg DM], 0 to 10

    Returns
    -------
    scalar or 1-D [ratio]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    suttle_mclauchlan1976
    """
    check(mo_mg_kg=mo_mg_kg, s_g_kg=s_g_kg)
    hindered = P["cua_mo"] * mo_mg_kg + P["cua_s"] * s_g_kg + P["cua_mo_s"] * mo_mg_kg * s_g_kg
    return power(10.0, P["cua_base"] + hindered)
