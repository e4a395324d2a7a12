"""What stands where nobody has said: dates by breed, bands, growth, milk by litter, limits, edges of risk."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from herd.science.body.condition import band
from herd.science.body.growth import gain_energy, weight_at_age
from herd.science.body.litter import litter_share, maternal_weight
from herd.science.body.weight import breed_milk
from herd.science.dates.gestation import gestation_prior
from herd.science.intake.appetite import appetite_growing, fresh_appetite_share
from herd.science.intake.limits import (
    forage_floor,
    grain_before_kidding,
    grain_per_day,
    grain_per_meal,
    grain_share_of_dm,
)
from herd.science.needs.lactation import fat_corrected_milk, litter_milk_share
from herd.science.needs.maintenance import maintenance_growing
from herd.science.needs.protein import lactation_protein
from herd.science.parameters import values

TERM_D, WEEK_D = 150, 7


def _by_tape(seen_kg: float, day: float) -> float:
    return maternal_weight(seen_kg, day, litter_share(2, "standard", "alpine"), TERM_D, "tape")


DEFAULTS: Mapping[str, Any] = {
    "gestation_sd": lambda breed: gestation_prior(breed, 2)[1],
    "band_lo": lambda stage: band(stage)[0],
    "band_hi": lambda stage: band(stage)[1],
    "weight_at_age": lambda months, mature_kg: weight_at_age(months * 365 / 12, mature_kg),
    "gain_energy": lambda gain_g, bw_kg, mature_kg: gain_energy(gain_g, bw_kg, mature_kg),
    "growing_maintenance": lambda bw_kg, mature_kg: maintenance_growing(bw_kg, mature_kg),
    "appetite_growing": lambda bw_kg: appetite_growing(bw_kg),
    "fresh_share": lambda day, kids: fresh_appetite_share(day, kids),
    "twin_milk_more_pct": lambda: 100 * (litter_milk_share(2) / litter_milk_share(1) - 1),
    "litter_milk": lambda kids: litter_milk_share(kids),
    "mp_per_milk_protein": lambda: lactation_protein(1.0),
    "fcm_of_breed": lambda breed, size: fat_corrected_milk(1.0, breed_milk(breed, size)[1]),
    "grain_per_meal": lambda bw_kg: grain_per_meal(bw_kg),
    "grain_per_day": lambda bw_kg, in_milk: grain_per_day(bw_kg, in_milk),
    "grain_share_pct": lambda in_milk: 100 * grain_share_of_dm(in_milk),
    "close_up_grain": lambda bw_kg, eats_kg: grain_before_kidding(bw_kg, eats_kg),
    "forage_pct": lambda bw_kg: forage_floor(bw_kg) / 10 / bw_kg,
    "by_tape": _by_tape,
    "risk_weeks": lambda edge: values("risk")[edge] / WEEK_D,
    "risk_weeks_before": lambda edge: (TERM_D - values("risk")[edge]) / WEEK_D,
    "risk_edge": lambda edge: values("risk")[edge],
}
