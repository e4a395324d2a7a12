"""British-style allowances for goats, as an Indian course page carries them, kept beside ours for comparison.

Validity: dairy does indoors. Accuracy: not reported. That the factors are those of AFRC 1998 is from memory.
References: iasri_lactation and nsahlai2004_energy in sources.toml.
"""

from __future__ import annotations

from herd.science.base.arrays import Num
from herd.science.needs.maintenance import metabolic_weight
from tests.published.comparisons.numbers import values

NAME = "systems_afrc"


def me_maintenance_afrc(body_weight_kg: Num, diet_me_mj_per_kg: Num) -> Num:
    """Fasting heat and a tenth for moving about, over the efficiency the diet's density gives [kJ ME/d].

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140
    diet_me_mj_per_kg : scalar or 1-D, n days [MJ ME/kg DM], 7 to 13
    """
    known = values(NAME)
    efficiency = known["km_base"] + known["km_per_me"] * diet_me_mj_per_kg
    return known["fasting"] * known["indoor_activity"] * metabolic_weight(body_weight_kg) / efficiency


def basal_protein_afrc(body_weight_kg: Num) -> Num:
    """Basal endogenous protein, used at an efficiency of one [g MP/d].

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140
    """
    nitrogen_g = values(NAME)["basal_nitrogen"] * metabolic_weight(body_weight_kg)
    return nitrogen_g * values(NAME)["protein_per_nitrogen"]


def milk_energy_afrc(fat_g_per_kg: Num, protein_g_per_kg: Num) -> Num:
    """Energy in milk [MJ/kg].

    Parameters
    ----------
    fat_g_per_kg : scalar or 1-D, n days [g/kg]
    protein_g_per_kg : scalar or 1-D, n days [g/kg]
    """
    known = values(NAME)
    solids = known["milk_fat_energy"] * fat_g_per_kg + known["milk_protein_energy"] * protein_g_per_kg
    return solids + known["milk_rest_energy"]
