"""What of her risks stands still for weeks, and the points a phone adds for what changes by the day. All judgement."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import numpy as np

from herd.science.base.record import term
from herd.science.parameters import values
from herd.science.risk.factors import Factor
from herd.science.risk.milk_fever import milk_fever_factors
from herd.science.risk.toxemia import toxemia_factors

from ..shapes import RiskPart
from .facts import Facts

# what a phone counts by itself, under the name it gives it: parameter, and what turns it into a whole number
COUNTED = {
    "last_month": ("tox_last_month", 1),
    "fat": ("tox_fat", 1),
    "thin": ("tox_thin", 1),
    "energy_short": ("tox_short", 1),
    "energy_well_short": ("tox_very_short", 1),
    "off_feed": ("tox_refused", 1),
    "slow_to_feed": ("tox_slow", 1),
    "upset": ("tox_upset", 1),
    "sick": ("tox_sick", 1),
    "ketones_clear": ("tox_ketone_clear", 1),
    "ketones_watch": ("tox_ketone_watch", 1),
    "ketones_act": ("tox_ketone_subclinical", 1),
    "ketones_vet": ("tox_ketone_clinical", 1),
    "litter_two": ("mf_twins", 1),
    "litter_three": ("mf_triplets", 1),
    "heavy_milk": ("mf_yield", 1),
    "calcium_short": ("mf_ca_short", 1),
    "much_calcium": ("mf_ca_over", 1),
    "feed_upset": ("mf_upset", 1),
    "toxemia_signs": ("mf_toxemia_signs", 1),
}
EDGES = {
    "last_d": ("tox_last_d", 1),
    "window_d": ("tox_window_d", 1),
    "fever_from_gest": ("mf_from_gest_d", 1),
    "fever_until_dim": ("mf_until_milk_d", 1),
    "fat_from_x100": ("tox_fat_from", 100),
    "thin_to_x100": ("tox_thin_to", 100),
    "energy_short_pm": ("tox_short_share", 1000),
    "energy_well_short_pm": ("tox_very_short_share", 1000),
    "calcium_short_pm": ("mf_ca_short_share", 1000),
    "much_calcium_pm": ("mf_ca_over_share", 1000),
    "much_calcium_last_d": ("mf_ca_over_last_d", 1),
    "heavy_milk_g": ("mf_yield_kg", 1000),
    "alert_from": ("alert_from", 1),
    "urgent_from": ("urgent_from", 1),
}
OF_LITTER = ("twins", "triplets")
NO_RISK: RiskPart = {"toxemia": [], "milk_fever": [], "litter": [], "counted": False, "points": {}, "edges": {}}


def risk(doe: Mapping[str, Any], facts: Facts, peak_milk_g: int) -> RiskPart:
    """Points of her litter, age and history, and the tables a phone needs for the rest.

    Parameters
    ----------
    doe : folded doe
    facts : her facts
    peak_milk_g : most milk expected after she kids [g/d], 0 when she is not carrying

    Returns
    -------
    RiskPart. "toxemia" and "milk_fever" hold in the whole window; "litter" is milk fever's while she carries, and after
    kidding a phone counts the kids born instead.
    """
    litter = facts.service.litter if facts.service else 1.0
    with term("risk.milk_fever"):
        fever = _fever(doe, facts, litter, peak_milk_g)
    with term("risk.toxemia"):
        toxemia = toxemia_factors(litter, bool(doe["f"].get("had_toxemia"))) if facts.service else ()
    with term("risk.counted"):
        points, edges = ({name: _scaled(*of) for name, of in table.items()} for table in (COUNTED, EDGES))
    return {
        "toxemia": _pairs(toxemia),
        "milk_fever": _pairs(factor for factor in fever if factor.code not in OF_LITTER),
        "litter": _pairs(factor for factor in fever if factor.code in OF_LITTER),
        "counted": facts.service is not None and bool(facts.service.counted),
        "points": points,
        "edges": edges,
    }


def peak_g(milk_g: Iterable[int]) -> int:
    """Most grams of milk on one day, 0 without any."""
    return int(np.max(np.fromiter(milk_g, dtype=np.int64), initial=0))


def _fever(doe: Mapping[str, Any], facts: Facts, litter: float, peak_milk_g: int) -> tuple[Factor, ...]:
    kidding = facts.done + (1 if facts.service else 0)
    # the table asks only whether it is much, so a curve past what a doe can give counts as the most she can
    milk_kg = min(values("assumed")["most_milk_kg"], peak_milk_g / 1000) if peak_milk_g else None
    return milk_fever_factors(litter, kidding, bool(doe["f"].get("had_milk_fever")), milk_kg)


def _pairs(factors: Iterable[Factor]) -> list[list[Any]]:
    return [[factor.code, factor.points] for factor in factors]


def _scaled(parameter: str, by: int) -> int:
    return round(by * values("risk")[parameter])
