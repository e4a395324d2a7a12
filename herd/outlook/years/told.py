"""What fed well and kidded well here: said only where the numbers bear it.

The kiddings of each size are parted at the middle of what was fed late; of those who got more and those who got less it
is counted how many kidded well. It is said where each side has enough kiddings (tell_least_n) and the two shares differ
by more than so many times the error of their difference (tell_errors_x10; shares and error with one more of each kind
added to each side, which keeps few or all-alike counts from looking sure). Nothing is said of why.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from math import sqrt
from statistics import median
from typing import Any

from .numbers import N
from .seasons import Fed, Season

MEASURES: dict[str, Callable[[Fed], float | None]] = {
    "grain": lambda fed: fed.grain_g / fed.days,
    "hay": lambda fed: fed.hay_g / fed.days,
    "legume": lambda fed: 1000 * fed.legume_g / fed.hay_g if fed.hay_g else None,
}


def _alive(season: Season) -> bool | None:
    return season.kidding.alive == season.kidding.born if season.kidding.born else None


def _unhelped(season: Season) -> bool | None:
    return None if season.kidding.help < 0 else season.kidding.help == 0


def _well(season: Season) -> bool | None:
    return None if season.ill < 0 else season.ill == 0


ENDS: dict[str, Callable[[Season], bool | None]] = {"alive": _alive, "unhelped": _unhelped, "well": _well}


@dataclass(frozen=True)
class Sides:
    """Those who got more and those who got less: how many, and how many of them kidded well."""

    more_n: int
    more_good: int
    less_n: int
    less_good: int

    @property
    def enough(self) -> bool:
        """Whether each side has as many as it takes."""
        return min(self.more_n, self.less_n) >= N["tell_least_n"]

    @property
    def clear(self) -> bool:
        """Whether the difference is that many times its error."""
        (p, n), (q, m) = ((self.more_good + 1, self.more_n + 2), (self.less_good + 1, self.less_n + 2))
        more, less = p / n, q / m
        error = sqrt(more * (1 - more) / n + less * (1 - less) / m)
        return 10 * abs(more - less) > N["tell_errors_x10"] * error


def comparisons(seasons: Iterable[Season], sizes: Mapping[str, str]) -> list[dict[str, Any]]:
    """Each measure against each end, for the document; `cut`: where the sides are parted, of the size with most."""
    rows = [one for one in seasons if one.phases["late"].covered]
    return [_compared(rows, sizes, measure, end) for measure in MEASURES for end in ENDS]


def _compared(rows: list[Season], sizes: Mapping[str, str], measure: str, end: str) -> dict[str, Any]:
    by_size: dict[str, list[tuple[float, bool]]] = {}
    for one in rows:
        much, good = MEASURES[measure](one.phases["late"]), ENDS[end](one)
        if much is not None and good is not None:
            by_size.setdefault(sizes[one.kidding.doe], []).append((much, good))
    cuts = {size: median(much for much, _ in found) for size, found in by_size.items()}
    more = [good for size, found in by_size.items() for much, good in found if much > cuts[size]]
    less = [good for size, found in by_size.items() for much, good in found if much <= cuts[size]]
    sides = Sides(len(more), sum(more), len(less), sum(less))
    most = max(by_size, key=lambda size: (len(by_size[size]), size), default="")
    return {
        "measure": measure,
        "end": end,
        "cut": round(cuts[most]) if most else 0,
        "sides": [sides.more_n, sides.more_good, sides.less_n, sides.less_good],
        "say": "few" if not sides.enough else "clear" if sides.clear else "none",
    }
