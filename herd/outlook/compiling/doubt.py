"""One standard deviation of her need, from what is not known: coefficient, weight, litter and kid weight."""

from __future__ import annotations

from collections.abc import Mapping
from math import hypot

import numpy as np

from herd.science.base.arrays import Days

from .facts import Facts

WEIGHT_POWER = 0.75  # maintenance goes with weight to this power, so weight counts by it


def need_sd(facts: Facts, maint_kj: Days, preg_kj: Days, rules: Mapping[str, int]) -> Days:
    """Standard deviation of the need without milk [kJ/d]; the parts are taken as independent.

    Parameters
    ----------
    facts : her facts
    maint_kj : 1-D, n days [kJ/d], maintenance
    preg_kj : 1-D, n days [kJ/d], the litter's part
    rules : herd rules

    Returns
    -------
    1-D, n days [kJ/d], never negative
    """
    of_body = _root(rules["maintenance_sd_pm"], WEIGHT_POWER * rules[_mass_rule(facts)])
    if not preg_kj.any():
        return maint_kj * of_body / 1000
    seen = facts.service is not None and facts.service.counted
    counted = rules["litter_scan_sd_pm" if seen else "litter_prior_sd_pm"]
    of_litter = _root(rules["kid_weight_sd_pm"], counted, rules["conceptus_sd_pm"])
    return np.asarray(np.hypot(maint_kj * of_body, preg_kj * of_litter) / 1000)


def _mass_rule(facts: Facts) -> str:
    if facts.mass.how == "tape" and facts.size == "mini":
        return "mass_tape_mini_sd_pm"
    return f"mass_{facts.mass.how}_sd_pm"


def _root(*parts: float) -> float:
    return hypot(*parts)
