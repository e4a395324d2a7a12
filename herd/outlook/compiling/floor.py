"""The least she is to get late in pregnancy, along a track."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from herd.science.base.arrays import Days
from herd.science.intake.limits import grain_per_day, grain_share_of_dm
from herd.science.needs.late_floor import floor_allowance, floor_eatable
from herd.science.needs.maintenance import maintenance_gfe2003, me_month_5_gfe2003

from .facts import Facts
from .track import Track

MONTH_5_D = 29  # the fifth month of the German table: days left of a pregnancy, its last thirty


def late_floor(
    facts: Facts,
    track: Track,
    kg: Days,
    alive_kj: Days,
    preg_kj: Days,
    appetite_kg: Days,
    rules: Mapping[str, int],
) -> Days:
    """The lower of what the herd holds to be least and what she can eat [kJ/d]; none before the late day."""
    late = track.gest >= rules["late_day"]
    if not late.any():
        return np.zeros(kg.shape)
    lower = _allowance(facts, track, kg, alive_kj, preg_kj, rules)
    for milking in (False, True):
        in_it = track.in_milk == milking
        if in_it.any():
            lower = np.where(in_it, np.minimum(lower, _eatable(kg, appetite_kg, milking, rules)), lower)
    return np.where(late, lower, 0.0)


def _eatable(kg: Days, appetite_kg: Days, milking: bool, rules: Mapping[str, int]) -> Days:
    """Energy of all she can eat at the densest [kJ/d]."""
    grain_kg = grain_per_day(kg, milking) * rules["grain_dm_pm"] / 10**6
    densest = rules["plan_grain_kj_kg"], rules["dense_hay_kj_kg"]
    return np.asarray(floor_eatable(appetite_kg, grain_kg, grain_share_of_dm(milking), *densest))


def _allowance(facts: Facts, track: Track, kg: Days, alive_kj: Days, preg_kj: Days, rules: Mapping[str, int]) -> Days:
    """What the herd holds to be least late [kJ/d]: by her litter, or the German month 5 with its step at day 121."""
    # an easy keeper set far below the low figure is not to be asked for more than her own maintenance
    low_kj = np.minimum(maintenance_gfe2003(kg), alive_kj)
    if rules["late_floor_system"] == 1 and facts.service is not None:
        # it knows no litter and would ask a light one for more than she needs
        month_5 = np.minimum(me_month_5_gfe2003(kg), alive_kj + preg_kj)
        return np.where(track.gest >= facts.service.length - MONTH_5_D, month_5, low_kj)
    return np.asarray(floor_allowance(low_kj, preg_kj, rules["floor_share_pm"] / 1000))
