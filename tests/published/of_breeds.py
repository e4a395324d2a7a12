"""By breed: grown weight, milk, kids at birth; and what open and carrying does eat, in the units of the sources."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from herd.science.body.litter import litter_share
from herd.science.body.weight import breed_milk, mature_weight
from herd.science.intake.appetite import appetite_carrying, appetite_dry
from herd.science.needs.maintenance import metabolic_weight

DWARF_LENGTH_D = 147  # the abstract's 21 weeks
TERM_D = 150


def _carried_more(bw_kg: float) -> float:
    """What she eats above one not bred, mean of 21 weeks [g per kg0.75]; does on pellets show no late fall."""
    day = np.arange(DWARF_LENGTH_D, dtype=np.float64)
    more = np.mean(appetite_carrying(bw_kg, day, DWARF_LENGTH_D)) - appetite_dry(bw_kg)
    return float(1000 * more / metabolic_weight(bw_kg))


BREEDS: Mapping[str, Any] = {
    "mature_weight": mature_weight,
    "milk_305": lambda breed, size: breed_milk(breed, size)[0],
    "breed_fat": lambda breed, size: breed_milk(breed, size)[1],
    "breed_protein": lambda breed, size: breed_milk(breed, size)[2],
    "kid_weight": lambda doe_kg, kids, size, breed: doe_kg * litter_share(kids, size, breed) / kids,
    "open_intake_pct": lambda bw_kg: 100 * appetite_dry(bw_kg) / bw_kg,
    "open_intake": lambda bw_kg: appetite_dry(bw_kg),
    "carrying_intake_per_mbw": lambda bw_kg, day: (
        1000 * appetite_carrying(bw_kg, day, TERM_D) / metabolic_weight(bw_kg)
    ),
    "carried_more": _carried_more,
}
