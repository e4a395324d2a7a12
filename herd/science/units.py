"""Conversions that hold by definition."""

from __future__ import annotations

from .arrays import Num

KJ_PER_MJ = 1000
KJ_PER_KCAL = 4.184
G_PER_KG = 1000
MG_PER_G = 1000
PER_CENT = 100
PERMILLE = 1000
CM_PER_M = 100
MM_PER_M = 1000


def kj_from_mj(energy_mj: Num) -> Num:
    """Energy in kilojoules.

    Parameters
    ----------
    energy_mj : scalar or 1-D, n days [MJ]

    Returns
    -------
    scalar or 1-D, n days [kJ]
    """
    return energy_mj * KJ_PER_MJ


def kj_from_kcal(energy_kcal: Num) -> Num:
    """Energy in kilojoules.

    Parameters
    ----------
    energy_kcal : scalar or 1-D, n days [kcal], thermochemical

    Returns
    -------
    scalar or 1-D, n days [kJ]
    """
    return energy_kcal * KJ_PER_KCAL
