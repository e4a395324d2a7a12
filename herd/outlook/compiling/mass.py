"""Her own body weight (conceptus taken off), how it is known, and whether it is still growing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from herd.science.base.arrays import Days
from herd.science.base.record import term
from herd.science.base.validity import check, ranges
from herd.science.body.growth import grown_weight, is_grown, weight_at_age
from herd.science.body.litter import litter_share, maternal_weight
from herd.science.body.weight import mature_weight
from herd.science.parameters import values

from .dates import Day, day
from .due import Service, gestation_on


@dataclass(frozen=True)
class Mass:
    """Maternal weight on the day of compiling and where it is heading."""

    kg: float
    mature_kg: float
    growing: bool
    how: str
    event: str
    kid_kg: float

    def on(self, days_from_today: Days) -> Days:
        """Weight by day [kg]."""
        if not self.growing:
            return np.full(days_from_today.shape, self.kg)
        kg = np.asarray(grown_weight(self.kg, self.mature_kg, days_from_today), dtype=np.float64)
        # of a kid weaned since then the days before are out of reach, and no reason to say nothing of today
        return np.maximum(kg, ranges()["body_weight_kg"].low)


def mass_of(
    doe: Mapping[str, Any], size: str, breed: str, first: bool, served: Service | None, today: Day
) -> tuple[Mass, list[str]]:
    """Her weight with what had to be assumed for it. Raises OutOfRange on a weight no doe has."""
    f = doe["f"]
    own_mature = int(f.get("mature_kg") or 0)
    mature = float(own_mature) if own_mature else mature_weight(breed, size)
    age = today - day(f["born_on"]) if f.get("born_on") else None
    notes = [] if own_mature else ["mature_by_breed"]
    row = _chosen(doe, today)
    if row:
        kg, more = _weighed(row, size, breed, served)
        how, event, weighed_on = str(row[2]), str(row[3]), day(row[0])
        notes += more
    else:
        kg, how, event, weighed_on = _by_class(first, age, mature), "class", "", today
        notes += ["mass_by_class"]
    check(body_weight_kg=kg)
    notes += ["age_unknown"] if age is None and first else []
    growing = _growing(f, first, kg, mature, age)
    if growing and weighed_on < today:
        kg = float(grown_weight(kg, mature, float(today - weighed_on)))
    with term("litter"):
        kid_kg = kg * litter_share(served.litter, size, breed) / served.litter if served else 0.0
    notes += ["kid_weight_by_mass"] if served else []
    return Mass(kg, mature, growing, how, event, kid_kg), notes


def _chosen(doe: Mapping[str, Any], today: Day) -> list[Any] | None:
    """The last scale weight, unless a tape reading is much newer."""
    rows = [row for row in doe["weights"] if day(row[0]) <= today]
    if not rows:
        return None
    scale = [row for row in rows if row[2] == "scale"]
    if scale and day(rows[-1][0]) - day(scale[-1][0]) <= values("assumed")["tape_gives_way_d"]:
        return list(scale[-1])
    return list(rows[-1])


def _weighed(row: list[Any], size: str, breed: str, served: Service | None) -> tuple[float, list[str]]:
    seen_kg, on, how = row[1] / 1000, day(row[0]), "scale" if row[2] == "scale" else "tape"
    check(body_weight_kg=seen_kg)
    notes = ["mass_by_tape"] if how == "tape" else []
    gest = gestation_on(served, on)
    if served and gest > 0:
        share = litter_share(served.litter, size, breed)
        kg = maternal_weight(seen_kg, min(gest, served.length), share, served.length, how)
        return kg, [*notes, "conceptus_taken_off"]
    return seen_kg, notes


def _by_class(first: bool, age: int | None, mature: float) -> float:
    if not first:
        return mature
    return float(weight_at_age(age, mature)) if age is not None else values("growth")["young_share"] * mature


def _growing(f: Mapping[str, Any], first: bool, kg: float, mature: float, age: int | None) -> bool:
    if isinstance(f.get("growing"), bool):
        return bool(f["growing"]) and kg < mature
    if not first and age is None:
        return False
    return not is_grown(kg, mature, age)
