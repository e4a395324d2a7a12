"""American allowances for goats of 1981, kept beside ours for comparison.

Validity: goats of 10 to 100 kg with little exercise. Accuracy: not reported.
References: nrc1981 in sources.toml, p. 10. Everything is worked in kcal ME and turned into TDN and protein at the end.
"""

from __future__ import annotations

from herd.science.base.arrays import Num
from herd.science.needs.maintenance import metabolic_weight
from tests.published.comparisons.numbers import values

NAME = "systems_nrc1981"
KCAL_PER_MCAL = 1000
KJ_PER_KCAL = 4.184
STANDARD_FAT_PCT = 4
FAT_STEP_PCT = 0.5


def me_maintenance_nrc1981(body_weight_kg: Num) -> Num:
    """Maintenance with little exercise [kcal ME/d].

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140
    """
    return values(NAME)["maintenance"] * metabolic_weight(body_weight_kg)


def me_gain_nrc1981(gain_g: Num) -> Num:
    """Growth [kcal ME/d].

    Parameters
    ----------
    gain_g : scalar or 1-D, n days [g/d]
    """
    return values(NAME)["gain"] * gain_g


def me_milk_nrc1981(milk_kg: Num, fat_pct: Num) -> Num:
    """Milk [kcal ME/d]: a fixed sum at 4 % fat and a step for each half per cent.

    Parameters
    ----------
    milk_kg : scalar or 1-D, n days [kg/d]
    fat_pct : scalar or 1-D, n days [%]
    """
    known = values(NAME)
    steps = (fat_pct - STANDARD_FAT_PCT) / FAT_STEP_PCT
    return milk_kg * (known["milk"] + known["milk_per_half_fat"] * steps)


def tdn_nrc1981(me_kcal: Num) -> Num:
    """TDN [kg/d] that yields this much ME.

    Parameters
    ----------
    me_kcal : scalar or 1-D, n days [kcal/d]
    """
    return me_kcal / (values(NAME)["de_per_tdn"] * values(NAME)["me_of_de"])


def total_protein_nrc1981(me_kcal: Num) -> Num:
    """Total protein [g/d] that goes with this much ME.

    Parameters
    ----------
    me_kcal : scalar or 1-D, n days [kcal/d]
    """
    de_mcal = me_kcal / values(NAME)["me_of_de"] / KCAL_PER_MCAL
    return values(NAME)["protein_per_de"] * de_mcal


def intake_nrc1981(me_kcal: Num) -> Num:
    """Dry matter [kg/d] of the 2 Mcal/kg diet that covers this much ME: a need, not an appetite.

    Parameters
    ----------
    me_kcal : scalar or 1-D, n days [kcal/d]
    """
    return me_kcal / values(NAME)["diet_me"]
