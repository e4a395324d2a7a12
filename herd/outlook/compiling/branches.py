"""Branches as whole numbers, the season, and the rule plan's steps."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

import numpy as np

from herd.science.base.arrays import Days
from herd.science.base.record import Ran, recording, term

from ..shapes import Branch, Season, Step
from . import track as tracks
from .dates import iso
from .facts import Facts
from .needs import needs_along
from .plan import grain_plan, legume_plan
from .track import Track

AFTER_DUE_D = 30
MOST_KIDS = 3


def span(first: float, n: int) -> Days:
    """Consecutive day numbers."""
    return np.arange(n, dtype=np.float64) + first


def branches(
    facts: Facts, day0: int, n: tuple[int, int], rules: Mapping[str, int]
) -> tuple[dict[str, Branch], dict[str, Ran]]:
    """Every state she can reach from here, and what ran for each; `n`: days from day0, and from when she kids."""
    on = span(day0, n[0])
    ways: dict[str, Callable[[], Track]] = {"as_is": lambda: tracks.as_is(facts, on)}
    if facts.milk.in_milk:
        ways["dry"] = lambda: tracks.dry(facts, on)
    if facts.service:
        fresh = span(facts.service.mid, n[1])
        ways["open"] = lambda: tracks.not_carrying(facts, on)
        ways |= {f"kidded{kids}": partial(tracks.kidded, facts, fresh, kids) for kids in range(1, MOST_KIDS + 1)}
    worked, ran = {}, {}
    for name, way in ways.items():
        with recording() as ran[name]:
            worked[name] = branch(facts, way(), rules)
    return worked, ran


def branch(facts: Facts, track: Track, rules: Mapping[str, int]) -> Branch:
    """One track worked and rounded."""
    needs = needs_along(facts, track, rules)
    with term("plan.grain"):
        grain = grain_plan(facts, track, needs, rules)
    with term("plan.legume"):
        legume = legume_plan(facts, track, rules)
    return {
        "phase": whole(track.phase),
        "lane": whole(track.lane),
        "gest": whole(track.gest),
        "me_kj": whole(needs.me_kj),
        "cp_mg": whole(needs.cp_mg),
        "ca_mg": whole(needs.ca_mg),
        "p_mg": whole(needs.p_mg),
        "maint_kj": whole(needs.maint_kj),
        "growth_kj": whole(needs.growth_kj),
        "preg_me_kj": whole(needs.preg_me_kj),
        "preg_cp_mg": whole(needs.preg_cp_mg),
        "preg_ca_mg": whole(needs.preg_ca_mg),
        "preg_p_mg": whole(needs.preg_p_mg),
        "me_sd_kj": whole(needs.me_sd_kj),
        "floor_me_kj": whole(needs.floor_me_kj),
        "milk_g": whole(1000 * track.milk_kg),
        "appetite_g": whole(needs.appetite_g),
        "band_lo": whole(needs.band_lo),
        "band_hi": whole(needs.band_hi),
        "plan_grain_g": whole(grain),
        "plan_legume_pm": whole(legume),
    }


def season(facts: Facts, rules: Mapping[str, int]) -> Season:
    """From conception to a month after due, as her record and the herd rules have it; empty when she is open."""
    if facts.service is None:
        return {"day0": "", "me_kj": [], "floor_me_kj": [], "phase": [], "appetite_g": []}
    carried = tracks.as_is(facts, span(facts.service.conception, facts.service.length))
    kids = min(MOST_KIDS, max(1, round(facts.service.litter)))
    fresh = tracks.kidded(facts, span(facts.service.mid, AFTER_DUE_D), kids)
    parts = [(track, needs_along(facts, track, rules)) for track in (carried, fresh)]
    return {
        "day0": iso(facts.service.conception),
        "me_kj": _joined([needs.me_with_milk_kj for _, needs in parts]),
        "floor_me_kj": _joined([needs.floor_me_kj for _, needs in parts]),
        "phase": _joined([track.phase for track, _ in parts]),
        "appetite_g": _joined([needs.appetite_with_milk_g for _, needs in parts]),
    }


def steps(facts: Facts, rules: Mapping[str, int]) -> list[Step]:
    """The rule plan's raises of grain from the start of close-up to kidding."""
    if facts.service is None:
        return []
    on = span(
        facts.service.conception + facts.stages.close_up_d - 1, facts.service.length - facts.stages.close_up_d + 2
    )
    track = tracks.as_is(facts, on)
    grain = whole(grain_plan(facts, track, needs_along(facts, track, rules), rules))
    milking = track.in_milk.tolist()
    return [
        {"on": iso(on[i]), "g": grain[i]} for i in range(1, len(grain)) if grain[i] != grain[i - 1] and not milking[i]
    ]


def whole(days: Days | np.ndarray[tuple[int, ...], np.dtype[np.int64]]) -> list[int]:
    """Nearest whole numbers, as plain integers for the wire."""
    if not np.isfinite(days).all():
        raise ValueError("a compiled figure is not a number")
    found: list[int] = np.rint(days).astype(np.int64).tolist()
    return found


def _joined(parts: list[Days] | list[np.ndarray[tuple[int, ...], np.dtype[np.int64]]]) -> list[int]:
    return [x for part in parts for x in whole(part)]
