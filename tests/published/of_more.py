"""Walking, minerals of other systems, litters and laboratory reports, in the units their sources print."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from herd.science.body.litter import gravid_uterus_freer2007, kid_factor, litter_share
from herd.science.intake.appetite import appetite_dry
from herd.science.needs.calcium import (
    calcium_growth,
    calcium_milk_inra,
    calcium_pregnancy,
)
from herd.science.needs.maintenance import maintenance_luo2004, metabolic_weight
from herd.science.needs.phosphorus import (
    phosphorus_diet,
    phosphorus_growth,
    phosphorus_milk_inra,
    phosphorus_pregnancy,
)
from herd.science.needs.pregnancy import conceptus_energy_afrc1993
from tests.published.comparisons.activity import activity_factor, walking_cost, walking_energy_lachica1997
from tests.published.comparisons.copper import copper_absorbability_suttle1976
from tests.published.of_needs import ca_maintenance, fed_ca, me_growing, p_maintenance
from tests.support.lab import read_report

G_PER_LB = 453.59237
TERM_D = 150


def _litter(bw_kg: float, kids: int) -> float:
    return bw_kg * litter_share(kids, "standard", "alpine")


def _laid_down_since(day: float) -> Any:
    """Share of the term energy content laid down from a day on, for a gestation of 150 days."""
    so_far, term = (conceptus_energy_afrc1993(d, 1.0, TERM_D) for d in (day, TERM_D))
    return 100 * (1 - so_far / term)


def _report_tdn(kind: str, **dry: str) -> float:
    return read_report({"dm": "90"}, dry, kind)["fields"]["tdn_pct_x10"] / 10


MORE: Mapping[str, Any] = {
    "walking_cost": walking_cost,
    "walk_mj": lambda bw_kg, km, climb_m: walking_energy_lachica1997(bw_kg, km, climb_m) / 1000,
    "activity_afrc": lambda ground: activity_factor(ground, "afrc"),
    "activity_recommended": lambda ground: activity_factor(ground, "recommended"),
    "maintenance_per_mbw": lambda bw_kg: maintenance_luo2004(bw_kg) / metabolic_weight(bw_kg),
    "maintenance_growing_per_mbw": lambda bw_kg: 1000 * me_growing(bw_kg, 0.0) / metabolic_weight(bw_kg),
    "dry_intake_per_mbw": lambda bw_kg: 1000 * appetite_dry(bw_kg) / metabolic_weight(bw_kg),
    "ca_diet_lb": lambda bw_kg, dmi_lb: fed_ca(ca_maintenance(dmi_lb * G_PER_LB / 1000, bw_kg)) / G_PER_LB,
    "p_diet_lb": lambda bw_kg, dmi_lb: phosphorus_diet(p_maintenance(dmi_lb * G_PER_LB / 1000, bw_kg)) / G_PER_LB,
    "ca_gain_lb": lambda gain_lb: fed_ca(calcium_growth(gain_lb * G_PER_LB)) / G_PER_LB,
    "p_gain_lb": lambda gain_lb: phosphorus_diet(phosphorus_growth(gain_lb * G_PER_LB)) / G_PER_LB,
    "ca_diet_litter": lambda bw_kg, kids, day: fed_ca(calcium_pregnancy(day, _litter(bw_kg, kids))),
    "p_diet_litter": lambda bw_kg, kids, day: phosphorus_diet(phosphorus_pregnancy(day, _litter(bw_kg, kids))),
    "ca_diet_milk": lambda: fed_ca(calcium_milk_inra(1.0)),
    "p_diet_milk": lambda: phosphorus_diet(phosphorus_milk_inra(1.0)),
    "kid_from_single": lambda single_kg, kids, size: single_kg * kid_factor(kids, size) / kid_factor(1, size),
    "litter_of_uterus": lambda day: 1 / gravid_uterus_freer2007(day, 1.0),
    "laid_down_since_pct": _laid_down_since,
    "copper_absorbability": copper_absorbability_suttle1976,
    "report_tdn": _report_tdn,
}
