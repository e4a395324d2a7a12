"""Other published allowance systems, in the units their tables print."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from herd.science.needs.maintenance import maintenance_gfe2003, me_month_5_gfe2003, metabolic_weight
from tests.published.comparisons.systems_afrc import basal_protein_afrc, me_maintenance_afrc, milk_energy_afrc
from tests.published.comparisons.systems_gfe2003 import me_milking_gfe2003
from tests.published.comparisons.systems_inra import maintenance_protein_inra, pdi_inra, ufl_inra
from tests.published.comparisons.systems_nrc1981 import (
    intake_nrc1981,
    me_gain_nrc1981,
    me_maintenance_nrc1981,
    me_milk_nrc1981,
    tdn_nrc1981,
    total_protein_nrc1981,
)

LB_PER_KG = 2.20462262
G_PER_LB = 453.59237
STAGES: Mapping[str, Any] = {"maintenance": "70", "month_4": "month_4", "month_5": "month_5"}


def _pdi(bw_kg: float, stage: str, milk_kg: float) -> Any:
    return pdi_inra(bw_kg, milk_kg, STAGES[stage])


def _ufl(bw_kg: float, stage: str, milk_kg: float) -> Any:
    return ufl_inra(bw_kg, milk_kg, STAGES[stage])


SYSTEMS: Mapping[str, Any] = {
    "me_dry_gfe2003": lambda bw_kg: maintenance_gfe2003(bw_kg) / 1000,
    "me_month5_gfe2003": lambda bw_kg: me_month_5_gfe2003(bw_kg) / 1000,
    "me_milking_gfe2003": lambda bw_kg, milk_kg, fat_pct: me_milking_gfe2003(bw_kg, milk_kg, fat_pct) / 1000,
    "tdn_maintenance_nrc1981": lambda bw_kg: tdn_nrc1981(me_maintenance_nrc1981(bw_kg)) * LB_PER_KG,
    "protein_maintenance_nrc1981": lambda bw_kg: total_protein_nrc1981(me_maintenance_nrc1981(bw_kg)) / G_PER_LB,
    "intake_maintenance_nrc1981": lambda bw_kg: 100 * intake_nrc1981(me_maintenance_nrc1981(bw_kg)) / bw_kg,
    "tdn_gain_nrc1981": lambda gain_lb: tdn_nrc1981(me_gain_nrc1981(gain_lb * G_PER_LB)) * LB_PER_KG,
    "protein_gain_nrc1981": lambda gain_lb: total_protein_nrc1981(me_gain_nrc1981(gain_lb * G_PER_LB)) / G_PER_LB,
    "tdn_milk_nrc1981": lambda fat_pct: tdn_nrc1981(me_milk_nrc1981(1, fat_pct)) * LB_PER_KG,
    "pdi_inra": _pdi,
    "ufl_inra": _ufl,
    "pdi_maintenance_swiss": lambda bw_kg: maintenance_protein_inra(bw_kg),
    "pdi_slope_swiss": lambda bw_kg: maintenance_protein_inra(bw_kg + 5) - maintenance_protein_inra(bw_kg - 5),
    "basal_protein_afrc": lambda bw_kg: basal_protein_afrc(bw_kg) / metabolic_weight(bw_kg),
    "maintenance_afrc": lambda bw_kg, me_mj_per_kg_dm: (
        me_maintenance_afrc(bw_kg, me_mj_per_kg_dm) / metabolic_weight(bw_kg)
    ),
    "milk_energy_afrc": lambda fat_g_kg, protein_g_kg: milk_energy_afrc(fat_g_kg, protein_g_kg),
}
