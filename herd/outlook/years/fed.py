"""A day's meals, put to each doe: hers are hers, what went into the feeder of a pen is shared evenly by heads.

Evenly, because nobody saw who ate what, and the years are long. Of two feedings of one meal, of which neither was said
to come on top, the smaller counts, as it does toward need.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from herd.state.doe_state import pen_on

from ..tables import CODES
from .seasons import Fed

MIXED = "mixed"
WET = "fodder"
Line = tuple[str, float]
Targets = dict[str, list[Line]]
Feeding = Mapping[str, Any]


def eaten_on(
    day: str,
    feedings: Sequence[Feeding],
    intakes: Sequence[Feeding],
    does: Mapping[str, Mapping[str, Any]],
    unsaid_pm: int,
) -> dict[str, list[Line]]:
    """{doe: [(feed, grams)]} of one day.

    Parameters
    ----------
    feedings, intakes : of that day, as the view keeps them, in order of happening
    does : of the view; who has left is fed no more
    unsaid_pm : what "left some" counts as where no share was said
    """
    pens = _pens(does, day)
    found: dict[str, list[Line]] = {}
    for slot in sorted({one["slot"] for one in feedings}):
        for target, lines in _meal([one for one in feedings if one["slot"] == slot], does).items():
            mates = [target] if target in does else pens.get(target, [])
            for feed, g in lines:
                kept = g * (1000 - _left_pm(intakes, target, slot, feed, unsaid_pm)) / 1000
                for doe in mates:
                    found.setdefault(doe, []).append((feed, kept / len(mates)))
    return found


def _pens(does: Mapping[str, Mapping[str, Any]], day: str) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for doe_id, doe in does.items():
        if not doe["left_on"] or day <= doe["left_on"]:
            found.setdefault(pen_on(dict(doe), day), []).append(doe_id)
    return found


def _meal(feedings: Sequence[Feeding], does: Mapping[str, Any]) -> Targets:
    sets: dict[str, list[list[Line]]] = {}
    more: Targets = {}
    for feeding in feedings:
        mine: Targets = {}
        for to, feed, g in feeding["lines"]:
            mine.setdefault(to or feeding["subject"], []).append((feed, g))
        for target, lines in mine.items():
            if feeding["adds"]:
                more.setdefault(target, []).extend(lines)
            else:
                sets.setdefault(target, []).append(lines)
    return {
        target: [*min(sets.get(target, [[]]), key=_weight), *more.get(target, [])]
        for target in dict.fromkeys([*sets, *more])
    }


def _weight(lines: Iterable[Line]) -> float:
    return sum(g for _, g in lines)


def _left_pm(intakes: Sequence[Feeding], subject: str, slot: str, feed: str, unsaid_pm: int) -> int:
    left = 0
    for one in intakes:
        same = one["subject"] == subject and one["slot"] == slot and one["feed"] in ("", feed)
        if same and one["how"] in ("ate_all", "left_some", "refused"):
            unsaid = one["how"] == "left_some" and not one["left_pm"]
            left = unsaid_pm if unsaid else one["left_pm"]
    return min(left, 1000)


def add_to(fed: Fed, lines: Iterable[Line], class_of: Callable[[str], str]) -> None:
    """One day more of a phase. Sprouts, which are mostly water, and feeds of no known class add no weight."""
    fed.days += 1
    for feed, g in lines:
        kind = class_of(feed)
        if kind in CODES["forage"]:
            fed.hay_g += g
            fed.legume_g += g / 2 if kind == MIXED else g if kind in CODES["legume"] else 0
        elif kind in CODES["concentrate"] and kind != WET:
            fed.grain_g += g
