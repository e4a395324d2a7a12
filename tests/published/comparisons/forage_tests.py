"""What a forage report makes of fibre: other forms of TDN, digestible dry matter, relative feed value."""

from __future__ import annotations

from herd.science.base.arrays import Num
from tests.published.comparisons.numbers import check, values

P = values("forage_tests")


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


def intake_from_ndf_nfta(ndf_pct: Num) -> Num:
    """Intake a forage report expects of cattle; too strict for goats, who sort.

    Equation: 120 / NDF

    Parameters
    ----------
    ndf_pct : scalar or 1-D, n days [% of DM]

    Returns
    -------
    scalar or 1-D, n days [% of body weight]

    References
    ----------
    nfta
    """
    return P["ndf_intake"] / ndf_pct


def relative_feed_value_nfta(adf_pct: Num, ndf_pct: Num) -> Num:
    """Relative feed value, 100 for a full-bloom alfalfa.

    Equation: (88.9 - 0.779 ADF) x (120 / NDF) / 1.29

    Parameters
    ----------
    adf_pct : scalar or 1-D, n days [% of DM]
    ndf_pct : scalar or 1-D, n days [% of DM]

    Returns
    -------
    scalar or 1-D, n days [index]

    Raises
    ------
    OutOfRange : adf_pct outside its range

    References
    ----------
    nfta
    """
    return digestible_dm_nfta(adf_pct) * intake_from_ndf_nfta(ndf_pct) / P["rfv_scale"]


def tdn_legume_oklahoma(adf_pct: Num) -> Num:
    """Alfalfa TDN, the high form.

    Equation: 88.9 - 0.78 ADF

    Parameters
    ----------
    adf_pct : scalar or 1-D, n days [% of DM]

    Returns
    -------
    scalar or 1-D, n days [% of DM]

    References
    ----------
    oklahoma_forage
    """
    return P["oklahoma_top"] - P["oklahoma_slope"] * adf_pct


def tdn_legume_california(adf_pct: Num) -> Num:
    """Alfalfa TDN, the low form, rounded as it was read.

    Equation: 82.4 - 0.75 ADF

    Parameters
    ----------
    adf_pct : scalar or 1-D, n days [% of DM]

    Returns
    -------
    scalar or 1-D, n days [% of DM]

    References
    ----------
    california_tdn
    """
    return P["california_top"] - P["california_slope"] * adf_pct
