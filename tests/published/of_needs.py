"""Our own needs: energy, protein, calcium and phosphorus, in the units their sources print."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from herd.outlook.rules import RULES
from herd.science.body.growth import gain_energy
from herd.science.body.litter import gravid_uterus_freer2007, kid_factor
from herd.science.needs.calcium import (
    calcium_body_inra,
    calcium_diet,
    calcium_intake_inra,
    calcium_milk_inra,
    calcium_pregnancy,
)
from herd.science.needs.lactation import (
    fat_corrected_milk,
    lactation_energy_nsahlai2004,
    milk_curve_wood,
    milk_energy_nsahlai2004,
)
from herd.science.needs.maintenance import maintenance_growing, maintenance_luo2004
from herd.science.needs.mineral_deposition import deposition_share
from herd.science.needs.phosphorus import (
    phosphorus_body_inra,
    phosphorus_diet,
    phosphorus_intake_inra,
    phosphorus_milk_inra,
    phosphorus_pregnancy,
)
from herd.science.needs.pregnancy import (
    conceptus_energy_afrc1993,
    conceptus_energy_gain_afrc1993,
    conceptus_protein_gain_afrc1993,
    pregnancy_energy_afrc1993,
    pregnancy_protein,
)
from herd.science.needs.protein import (
    crude_protein,
    growing_protein_luo2004,
    maintenance_protein_nsahlai2004,
    mp_per_cp,
)
from tests.published.comparisons.cold import cold_share

ABSORPTION = RULES["calcium_absorption_pm"].default / 1000


def ca_maintenance(dmi_kg: float, bw_kg: float) -> Any:
    return calcium_intake_inra(dmi_kg) + calcium_body_inra(bw_kg)


def p_maintenance(dmi_kg: float, bw_kg: float) -> Any:
    return phosphorus_intake_inra(dmi_kg) + phosphorus_body_inra(bw_kg)


def fed_ca(absorbed_g: Any) -> Any:
    return calcium_diet(absorbed_g, ABSORPTION)


def me_growing(bw_kg: float, gain_g: float) -> Any:
    """Of a doe at half of her mature weight, before the figures slide to those of a grown one [MJ]."""
    return (maintenance_growing(bw_kg, 2 * bw_kg) + gain_energy(gain_g, bw_kg, 2 * bw_kg)) / 1000


def _doe(bw_kg: float, milk_kg: float, fat_pct: float) -> Any:
    milk = lactation_energy_nsahlai2004(fat_corrected_milk(milk_kg, fat_pct))
    return (maintenance_luo2004(bw_kg) + milk) / 1000


def _carrying(bw_kg: float, litter_kg: float, day: float) -> Any:
    return (maintenance_luo2004(bw_kg) + pregnancy_energy_afrc1993(day, litter_kg)) / 1000


def _carrying_protein(bw_kg: float, litter_kg: float, day: float, dmi_kg: float) -> Any:
    return maintenance_protein_nsahlai2004(dmi_kg, bw_kg) + pregnancy_protein(day, litter_kg)


def _cold(temp_f: float, wind_mph: float) -> Any:
    """The course takes the wind's miles per hour straight off the degrees."""
    return 100 * cold_share((temp_f - wind_mph - 32) / 1.8)


def _gain_mean(from_day: int, to_day: int, litter_kg: float) -> float:
    laid = [conceptus_energy_afrc1993(day, litter_kg) for day in (from_day, to_day)]
    return float((laid[1] - laid[0]) / (to_day - from_day)) / 1000


def _ca(bw_kg: float, dmi_kg: float, milk_kg: float = 0) -> Any:
    return ca_maintenance(dmi_kg, bw_kg) + calcium_milk_inra(milk_kg)


def _p(bw_kg: float, dmi_kg: float, milk_kg: float = 0) -> Any:
    return p_maintenance(dmi_kg, bw_kg) + phosphorus_milk_inra(milk_kg)


def _gap_ratio(bw_kg: float, dmi_kg: float, milk_kg: float, ca_supply_g: float, p_supply_g: float) -> Any:
    """Worked from the gaps as the article rounds them, as it does."""
    ca, p = _ca(bw_kg, dmi_kg, milk_kg) - ca_supply_g, _p(bw_kg, dmi_kg, milk_kg) - p_supply_g
    return round(float(ca), 1) / round(float(p), 1)


NEEDS: Mapping[str, Any] = {
    "me_doe": _doe,
    "me_carrying": _carrying,
    "me_maintenance": lambda bw_kg: maintenance_luo2004(bw_kg) / 1000,
    "me_maintenance_and_gain": lambda bw_kg, gain_g: (
        (maintenance_luo2004(bw_kg) + gain_energy(gain_g, bw_kg, bw_kg)) / 1000
    ),
    "me_growing": me_growing,
    "me_per_kg_fcm": lambda: lactation_energy_nsahlai2004(1) / 4.184,
    "milk_energy": lambda fat_pct: milk_energy_nsahlai2004(fat_pct),
    "fat_corrected_milk": lambda milk_kg, fat_pct: fat_corrected_milk(milk_kg, fat_pct),
    "milk_on_day": lambda total_305_kg, day, first: milk_curve_wood(day, total_305_kg, first),
    "cold_increase_pct": _cold,
    "conceptus_energy": lambda day, litter_kg: conceptus_energy_afrc1993(day, litter_kg) / 1000,
    "conceptus_gain": lambda day, litter_kg: conceptus_energy_gain_afrc1993(day, litter_kg) / 1000,
    "conceptus_gain_mean": _gain_mean,
    "conceptus_me": lambda day, litter_kg: pregnancy_energy_afrc1993(day, litter_kg) / 1000,
    "conceptus_protein": lambda day, litter_kg: conceptus_protein_gain_afrc1993(day, litter_kg),
    "gravid_uterus": lambda day, litter_kg: gravid_uterus_freer2007(day, litter_kg),
    "litter_against_single_pct": lambda kids: 100 * kids * kid_factor(kids, "standard") / kid_factor(1, "standard"),
    "mp_maintenance": lambda bw_kg, dmi_kg: maintenance_protein_nsahlai2004(dmi_kg, bw_kg),
    "mp_carrying": _carrying_protein,
    "cp_carrying": lambda **inputs: crude_protein(_carrying_protein(**inputs)),
    "mp_growing": lambda bw_kg, gain_g: growing_protein_luo2004(bw_kg, gain_g),
    "mp_per_cp": lambda undegraded_pct: mp_per_cp(undegraded_pct / 100),
    "cp_from_mp": lambda mp_g, undegraded_pct: crude_protein(mp_g, undegraded_pct / 100),
    "ca_absorbed_need": _ca,
    "p_absorbed_need": _p,
    "ca_absorbed_gap": lambda bw_kg, dmi_kg, milk_kg, supply_g: _ca(bw_kg, dmi_kg, milk_kg) - supply_g,
    "p_absorbed_gap": lambda bw_kg, dmi_kg, milk_kg, supply_g: _p(bw_kg, dmi_kg, milk_kg) - supply_g,
    "ca_to_p_of_gaps": _gap_ratio,
    "ca_diet": lambda bw_kg, dmi_kg, milk_kg=0: fed_ca(_ca(bw_kg, dmi_kg, milk_kg)),
    "p_diet": lambda bw_kg, dmi_kg, milk_kg=0: phosphorus_diet(_p(bw_kg, dmi_kg, milk_kg)),
    "ca_diet_carrying": lambda bw_kg, dmi_kg, litter_kg, day: fed_ca(
        _ca(bw_kg, dmi_kg) + calcium_pregnancy(day, litter_kg)
    ),
    "p_diet_carrying": lambda bw_kg, dmi_kg, litter_kg, day: phosphorus_diet(
        _p(bw_kg, dmi_kg) + phosphorus_pregnancy(day, litter_kg)
    ),
    "laid_down_share": lambda day: deposition_share(day),
    "laid_down_at_term": lambda total_g: total_g * deposition_share(150),
    "ca_last_weeks_mean": lambda from_day, to_day: float(
        np.mean(calcium_pregnancy(np.arange(from_day, to_day + 1), 1.0))
    ),
}
