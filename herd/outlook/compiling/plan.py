"""The rule plan: grain and legume share of hay by day, for a doe nobody has planned otherwise."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from herd.science.base.arrays import Days
from herd.science.dates.phase import LANE_FIRST, LANE_GROWN_DRY
from herd.science.intake.appetite import appetite_carrying, appetite_growing, late_appetite_share
from herd.science.intake.limits import dry_grain, grain_before_kidding, grain_per_day, grain_share_of_dm

from ..rule_choices import VETS_RULE
from .facts import Facts
from .needs import Needs
from .track import FAR, Track

ROUND_G = 10
ANY_LENGTH_D = 150  # at kidding her appetite no longer hangs on how long she carried


def grain_plan(facts: Facts, track: Track, needs: Needs, rules: Mapping[str, int]) -> Days:
    """Grain in dry-grain equivalent: to need in milk, down before dry-off, none while dry, up in steps before kidding.

    A fresh doe starts from what she was eating at kidding and rises by steps to her need.
    """
    steps = np.floor(np.maximum(track.dim, 0.0) / rules["step_days"]) * rules[f"step_{facts.size}_g"]
    grain = np.zeros(track.on.shape)
    target = close_up_target(facts) if (track.in_milk | track.carrying).any() else 0.0
    if track.carrying.any():
        grain = _before_kidding(facts, track, rules, target)
    if track.in_milk.any():
        milking = np.minimum(_gap(facts, track, needs, rules), target + steps) * _winding_down(track, rules)
        grain = np.where(track.in_milk, milking, grain)
    return np.floor(grain / ROUND_G) * ROUND_G


def legume_plan(facts: Facts, track: Track, rules: Mapping[str, int]) -> Days:
    """Legume share of hay, permille: down only after milk has stopped, up with the grain before kidding.

    Under the rule agreed with a vet legume is held back until she has kidded.
    """
    dry, milk, close = (float(rules[f"plan_legume_{name}_pm"]) for name in ("dry", "milk", "close"))
    first = float(rules["plan_legume_first_pm"])
    resting = np.select(
        [track.lane == LANE_FIRST, track.lane == LANE_GROWN_DRY], [first, dry], float(rules["plan_legume_open_pm"])
    )
    span = max(1, rules["legume_after_dry_off_d"])
    since = (track.on - track.dry_from) / span
    from_milk = facts.milk.kidded is not None and track.dry_from < FAR
    if from_milk:
        resting = np.where(since < 1, milk + np.clip(since, 0.0, 1.0) * (resting - milk), resting)
    if rules["calcium_before_kidding"] == VETS_RULE:
        risen = resting
    else:
        risen = resting + _toward_kidding(facts, track) * (np.maximum(close, resting) - resting)
    rise_in_milk = np.clip(track.dim / max(1, rules["fresh_days"]), 0.0, 1.0)
    return np.where(track.in_milk, close + rise_in_milk * (milk - close), risen)


def close_up_target(facts: Facts) -> float:
    """Where the steps end, dry-grain equivalent. By her appetite at its lowest, so no step is taken back later."""
    days_on = facts.service.mid - facts.today if facts.service else 0
    kg = facts.mass.on(np.array([days_on], dtype=np.float64))
    length = facts.service.length if facts.service else ANY_LENGTH_D
    appetite_kg = np.asarray(appetite_growing(kg) if facts.mass.growing else appetite_carrying(kg, length, length))
    litter = facts.service.litter if facts.service else float(max(1, facts.milk.kids))
    least_kg = float((appetite_kg * late_appetite_share(0.0, litter))[0])
    return grain_before_kidding(float(kg[0]), least_kg)


def _gap(facts: Facts, track: Track, needs: Needs, rules: Mapping[str, int]) -> Days:
    """Grain that lifts a full belly of the plan's hay to need, within the limits in milk."""
    share = rules["plan_legume_milk_pm"] / 1000
    hay_kj_g = (share * rules["plan_legume_kj_kg"] + (1 - share) * rules["plan_grass_kj_kg"]) / 1000
    eaten_g = needs.appetite_with_milk_g
    dm_g = (needs.me_with_milk_kj - eaten_g * hay_kj_g) / (rules["plan_grain_kj_kg"] / 1000 - hay_kj_g)
    most_g = np.minimum(grain_per_day(facts.mass.kg, True), dry_grain(1.0) * grain_share_of_dm(True) * eaten_g)
    return np.clip(dry_grain(1.0) * dm_g, 0.0, most_g)


def _winding_down(track: Track, rules: Mapping[str, int]) -> Days:
    """Share of her milking grain left as dry-off comes near, falling in steps."""
    if track.dry_from >= FAR:
        return np.ones(track.on.shape)
    left = np.ceil((track.dry_from - track.on) / rules["step_days"]) * rules["step_days"]
    return np.clip((left - rules["step_days"]) / max(1, rules["dry_off_taper_d"]), 0.0, 1.0)


def _before_kidding(facts: Facts, track: Track, rules: Mapping[str, int], target: float) -> Days:
    since = track.gest - facts.stages.close_up_d
    steps = (np.floor(since / rules["step_days"]) + 1) * rules[f"step_{facts.size}_g"]
    return np.where(track.carrying & (since >= 0), np.minimum(steps, target), 0.0)


def _toward_kidding(facts: Facts, track: Track) -> Days:
    """How far she is from the start of close-up to kidding, 0 to 1."""
    if facts.service is None:
        return np.zeros(track.on.shape)
    span = max(1, facts.service.length - facts.stages.close_up_d)
    return np.where(track.carrying, np.clip((track.gest - facts.stages.close_up_d) / span, 0.0, 1.0), 0.0)
