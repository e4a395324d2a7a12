"""What a forage report calls relative feed value, and the two alfalfa TDN forms that bracket the truth."""

from __future__ import annotations

from .arrays import Num
from .composition import digestible_dm_nfta
from .parameters import values

P = values("forage_index")


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
