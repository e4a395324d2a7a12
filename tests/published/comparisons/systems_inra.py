"""French allowances for goats (INRA leaflet), kept beside ours for comparison.

Validity: does about 70 kg; the leaflet moves its figures by a fixed step per 10 kg, which does not hold for miniatures.
Accuracy: not reported. References: inra_leaflet in sources.toml.
"""

from __future__ import annotations

from typing import Literal

from herd.science.base.arrays import Num
from herd.science.needs.maintenance import metabolic_weight
from tests.published.comparisons.numbers import values

NAME = "systems_inra"
LEAFLET_WEIGHT_KG = 70
Stage = Literal["70", "month_4", "month_5"]
MAINTENANCE: Stage = "70"


def pdi_inra(body_weight_kg: Num, milk_kg: Num = 0.0, stage: Stage = MAINTENANCE) -> Num:
    """Protein digestible in the intestine, total [g PDI/d].

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg]
    milk_kg : scalar or 1-D, n days [kg/d], milk of 3.5 % fat
    stage : "70" dry or early, "month_4", "month_5"
    """
    known = values(NAME)
    by_weight = known["pdi_per_kg"] * (body_weight_kg - LEAFLET_WEIGHT_KG)
    return known[f"pdi_{stage}"] + by_weight + known["pdi_milk"] * milk_kg


def ufl_inra(body_weight_kg: Num, milk_kg: Num = 0.0, stage: Stage = MAINTENANCE) -> Num:
    """Net energy for milk, total [UFL/d].

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg]
    milk_kg : scalar or 1-D, n days [kg/d], milk of 3.5 % fat
    stage : "70" dry or early, "month_4", "month_5"
    """
    known = values(NAME)
    by_weight = known["ufl_per_kg"] * (body_weight_kg - LEAFLET_WEIGHT_KG)
    return known[f"ufl_{stage}"] + by_weight + known["ufl_milk"] * milk_kg


def maintenance_protein_inra(body_weight_kg: Num) -> Num:
    """Protein digestible in the intestine for maintenance by the French and Swiss tables; a check, not the default.

    Equation: PDI = 2.3 BW^0.75

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140

    Returns
    -------
    scalar or 1-D, n days [g/d]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    References
    ----------
    agroscope_goat
    """
    return values(NAME)["pdi_g_mbw"] * metabolic_weight(body_weight_kg)
