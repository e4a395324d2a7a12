"""A doe's year around one kidding: early and late pregnancy and her fresh weeks, each with its days."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from ..days import days_between, shift
from .kiddings import Kidding
from .numbers import N

PHASES = ("early", "late", "fresh")


@dataclass
class Fed:
    """What was put before her in a phase, less what was left: grams as fed. `days`: with anything fed. `legume_g` is
    part of the hay; of mixed hay half is taken for legume."""

    length_d: int
    days: int = 0
    hay_g: float = 0
    grain_g: float = 0
    legume_g: float = 0

    @property
    def covered(self) -> bool:
        """Whether enough of its days are known."""
        return self.length_d > 0 and 1000 * self.days >= N["covered_pm"] * self.length_d


@dataclass
class Season:
    """One kidding and what belongs to it."""

    kidding: Kidding
    phases: dict[str, Fed]
    first: str
    milk_days: int = 0
    milk_g: int = 0
    scores: dict[str, int] = field(default_factory=dict)
    ill: int = -1


class Spans:
    """Which season and phase of a doe a date lies in."""

    def __init__(self, kiddings: Iterable[Kidding]) -> None:
        self.seasons: list[Season] = []
        self._of: dict[str, list[tuple[str, str, Season, str]]] = {}
        for one in kiddings:
            season, spans = _spans(one)
            self.seasons.append(season)
            self._of.setdefault(one.doe, []).extend(spans)
        for spans in self._of.values():
            spans.sort(key=lambda span: span[:2])

    def at(self, doe: str, on: str) -> tuple[Season, str] | None:
        """The season and phase, or nothing where she is between two of them."""
        spans = self._of.get(doe, [])
        place = bisect_right(spans, on, key=lambda span: span[0]) - 1
        if place < 0 or on >= spans[place][1]:
            return None
        return spans[place][2], spans[place][3]


def _spans(one: Kidding) -> tuple[Season, list[tuple[str, str, Season, str]]]:
    late = min(shift(one.bred_on, N["late_from_d"]), one.on)
    ends = (one.bred_on, late, one.on, shift(one.on, N["fresh_d"]))
    days = zip(PHASES, ends, ends[1:], strict=False)
    season = Season(one, {name: Fed(days_between(start, end)) for name, start, end in days}, one.bred_on)
    return season, [(ends[n], ends[n + 1], season, name) for n, name in enumerate(PHASES)]


@dataclass(frozen=True)
class Said:
    """What the folded doe does not keep: all dates on which she was dried off, and those on which somebody wrote down
    that she had "toxemia" or "milk_fever"."""

    dried: list[str]
    had: list[tuple[str, str]]


def look_at(season: Season, doe: Mapping[str, Any], said: Said, act_x10: int) -> None:
    """Her condition at breeding, dry-off and kidding, and whether she was ill around it: 1 ketosis, 2 milk fever, 3
    both, 0 neither where her ketones were read, -1 where nobody looked.

    Parameters
    ----------
    act_x10 : blood ketones that count, tenths of mmol/L
    """
    on = season.kidding.on
    for name, day in (("bred", season.first), ("dry", _dried(season, said)), ("kid", on)):
        near = [row for row in doe["scores"] if day and abs(days_between(row[0], day)) <= N["score_near_d"]]
        if near:
            season.scores[name] = min(near, key=lambda row: (abs(days_between(row[0], day)), row[0]))[1]
    first, last = shift(on, -N["ill_before_d"]), shift(on, N["ill_after_d"])
    read = [row for row in doe["checkups"] if first <= row[0] <= last and (row[3] or row[4])]
    had = {what for when, what in said.had if first <= when <= last}
    ketosis = "toxemia" in had or any(row[3] >= act_x10 or row[4] in ("moderate", "large") for row in read)
    season.ill = (ketosis + 2 * ("milk_fever" in had)) if ketosis or had or read else -1


def _dried(season: Season, said: Said) -> str:
    dried = [on for on in said.dried if season.first <= on < season.kidding.on]
    return dried[-1] if dried else ""
