"""From the figures of a forage test to the units rations are worked in."""

from __future__ import annotations

from .arrays import Num
from .parameters import values
from .validity import check

P = values("composition")


def me_from_tdn(tdn_pct: Num) -> Num:
    """Metabolizable energy from total digestible nutrients, by the convention of the feed library.

    Equation: ME = 0.15127 MJ x TDN % (ME = 0.82 DE)

    Parameters
    ----------
    tdn_pct : scalar or 1-D [% DM], 20 to 135

    Returns
    -------
    scalar or 1-D [kJ/kg DM]

    Raises
    ------
    OutOfRange : tdn_pct outside its range

    References
    ----------
    nrc1981
    """
    check(tdn_pct=tdn_pct)
    return 1000 * P["me_mj_per_tdn_pct"] * tdn_pct


def me_from_tdn_nrc1981(tdn_pct: Num) -> Num:
    """Metabolizable energy from total digestible nutrients by the 1981 goat chain.

    Equation: ME = 0.1505 MJ x TDN %

    Parameters
    ----------
    tdn_pct : scalar or 1-D [% DM], 20 to 135

    Returns
    -------
    scalar or 1-D [kJ/kg DM]

    Raises
    ------
    OutOfRange : tdn_pct outside its range

    References
    ----------
    nrc1981, p. 10
    """
    check(tdn_pct=tdn_pct)
    return 1000 * P["me_mj_per_tdn_pct_nrc1981"] * tdn_pct


def tdn_legume_bath1989(adf_pct: Num) -> Num:
    """Total digestible nutrients of alfalfa from its fibre.

    Equation: TDN = 82.38 - 0.7515 ADF

    Parameters
    ----------
    adf_pct : scalar or 1-D [% DM], 15 to 60

    Returns
    -------
    scalar or 1-D [% DM]

    Raises
    ------
    OutOfRange : adf_pct outside its range

    Validity
    --------
    Alfalfa only; warm-season grass reads about eight points too high from fibre alone.

    References
    ----------
    bath_marble1989
    """
    check(adf_pct=adf_pct)
    return P["legume_tdn_top"] - P["legume_tdn_slope"] * adf_pct


def digestible_dm_nfta(adf_pct: Num) -> Num:
    """Digestible dry matter of a forage from its fibre.

    Equation: DDM = 88.9 - 0.779 ADF

    Parameters
    ----------
    adf_pct : scalar or 1-D [% DM], 15 to 60

    Returns
    -------
    scalar or 1-D [% DM]

    Raises
    ------
    OutOfRange : adf_pct outside its range

    References
    ----------
    nfta
    """
    check(adf_pct=adf_pct)
    return P["ddm_top"] - P["ddm_slope"] * adf_pct
