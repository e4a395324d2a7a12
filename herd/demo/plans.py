"""The farm's rations: what each doe gets on the stand, and each pen's hay as the sum of what its does are reckoned."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from .cast import PENS, START, Doe, Pen, Steps
from .does import DOES

AHEAD = -21
HAY_SLOTS = ("morning", "evening")
PEN_KEYS = tuple(pen.key for pen in PENS)
Place = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Ration:
    """One entry of the owner: from its first step on it stands in place of what was planned before."""

    subject: str
    slot: str
    feed: str
    steps: Steps
    entered: int


def at(steps: Steps, ago: int) -> int:
    """What is in force on a day: the last step on or before it, 0 before the first."""
    return next((g for start, g in reversed(steps) if start >= ago), 0)


def members(pen: str, ago: int) -> list[Doe]:
    return [doe for doe in DOES if next((where for start, where in reversed(doe.pens) if start >= ago), "") == pen]


@cache
def plan() -> dict[Place, dict[str, Steps]]:
    """{(doe or pen, slot): {feed: steps}}"""
    found: dict[Place, dict[str, Steps]] = {}
    for doe in DOES:
        for slot, feed, steps in doe.stand:
            found.setdefault((doe.key, slot), {})[feed] = steps
    for pen in PENS:
        for slot in HAY_SLOTS:
            found[pen.key, slot] = _hay(pen)
    return found


def planned(subject: str, slot: str, ago: int) -> list[tuple[str, int]]:
    """[(feed, grams)] of one pen or doe for a meal."""
    lines = [(feed, at(steps, ago)) for feed, steps in plan().get((subject, slot), {}).items()]
    return [(feed, g) for feed, g in lines if g]


def rations() -> list[Ration]:
    """Past steps are entered the evening before they begin, and all that lies ahead in one entry."""
    found = []
    for (subject, slot), feeds in plan().items():
        for feed, steps in feeds.items():
            ahead = tuple(step for step in steps if step[0] < 0)
            found += [Ration(subject, slot, feed, (step,), step[0] + 1) for step in steps if step[0] >= 0]
            found += [Ration(subject, slot, feed, ahead, 1)] if ahead else []
    return found


def _hay(pen: Pen) -> dict[str, Steps]:
    days = range(START, AHEAD - 1, -1)
    meals = [(ago, _pen_meal(pen, ago)) for ago in days]
    feeds = sorted({feed for _, shares in pen.blend for feed in shares})
    return {feed: _changes([(ago, meal.get(feed, 0)) for ago, meal in meals]) for feed in feeds}


def _pen_meal(pen: Pen, ago: int) -> dict[str, int]:
    blend = next(shares for start, shares in reversed(pen.blend) if start >= ago)
    total = sum(at(doe.hay, ago) for doe in members(pen.key, ago))
    return {feed: 100 * round(total * pm / 100_000 / len(HAY_SLOTS)) for feed, pm in blend.items()}


def _changes(daily: list[tuple[int, int]]) -> Steps:
    before = 0
    steps = []
    for ago, g in daily:
        if g != before:
            steps.append((ago, g))
        before = g
    return tuple(steps)
