"""Signs near kidding: the chance of kidding in the hours ahead, at full strength, in the units the note prints."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import accumulate
from math import log
from statistics import NormalDist
from typing import Any

from herd.science.dates.near_kidding import STEP_H, Finding, after_looks
from herd.science.dates.signs import P10_TO_P90, sign_earlier

# The note's own grid: points each half hour up to twenty days, her length of gestation as a density at them.
POINTS_H = [STEP_H * point for point in range(1, 20 * 48 + 1)]
Told = Sequence[Sequence[Any]]


def _ahead(day: float, mean: float, sd: float, told: Told, power: float) -> list[float]:
    length = NormalDist(mean, sd)
    prior = [length.pdf(day + hours / 24) for hours in POINTS_H]
    found = [Finding(sign, how, gap_h=gap_h) for how, sign, gap_h in told]
    return after_looks(prior, POINTS_H, found, power, lambda each, lead_h: log(each.chance(lead_h)))


def _within(hours: float, **given: Any) -> float:
    return sum(_ahead(**given)[: round(hours / STEP_H)])


def _median(**given: Any) -> float:
    return next(POINTS_H[step] for step, chance in enumerate(accumulate(_ahead(**given))) if chance >= 0.5)


SIGNS: Mapping[str, Any] = {
    "kidding_within": _within,
    "kidding_median": _median,
    "sign_earlier": sign_earlier,
    "lead_sigma": lambda p10_h, p90_h: log(p90_h / p10_h) / P10_TO_P90,
}
