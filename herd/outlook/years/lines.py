"""Dam lines: who descends from whom by the kids' own records, and which line holds its condition on less or on more."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import sqrt
from statistics import median
from typing import Any

from .numbers import N
from .seasons import Season


def line_of(view: Mapping[str, Any]) -> dict[str, str]:
    """{doe: the first known doe of her line}: a kid that grew into a doe of the herd names its dam."""
    dams = {
        str(row["f"]["grown"]): str(row["f"].get("dam", "")) for row in view["kids"].values() if row["f"].get("grown")
    }
    return {doe: _root(doe, dams, view["does"]) for doe in view["does"]}


def _root(doe: str, dams: Mapping[str, str], does: Mapping[str, Any]) -> str:
    seen = {doe}
    while (dam := dams.get(doe, "")) in does and dam not in seen:
        seen.add(dam)
        doe = dam
    return doe


@dataclass(frozen=True)
class Keeper:
    """What a line was fed while it held its condition, against what is usual here: permille more (or less), its error,
    the kiddings and seasons behind it, and whether that is enough to say it."""

    away_pm: int
    error_pm: int
    n: int
    seasons: int
    said: bool


def keepers(seasons: Iterable[Season], lines: Mapping[str, str], sizes: Mapping[str, str]) -> dict[str, Keeper]:
    """Of each line with a kidding at which she held about 3 from breeding on.

    Each such kidding is held against the median of all others of her size that year that held. The error is that of all
    such differences on the farm, so one line's few alike are not taken for sure.
    """
    away = _away([one for one in seasons if _held(one)], sizes)
    by_line: dict[str, list[tuple[str, float]]] = {}
    for one, pm in away:
        by_line.setdefault(lines[one.kidding.doe], []).append((one.kidding.on[:4], pm))
    means = {line: sum(pm for _, pm in rows) / len(rows) for line, rows in by_line.items()}
    around = [(pm - means[line]) ** 2 for line, rows in by_line.items() for _, pm in rows]
    free = len(around) - len(by_line)
    spread = sqrt(sum(around) / free) if free > 0 else None
    return {line: _keeper(means[line], rows, spread) for line, rows in by_line.items()}


def _keeper(mean: float, rows: list[tuple[str, float]], spread: float | None) -> Keeper:
    n, seasons = len(rows), len({year for year, _ in rows})
    error = 0.0 if spread is None else spread / sqrt(n)
    enough = spread is not None and n >= N["line_least_n"] and seasons >= N["line_least_seasons"]
    clear = abs(mean) >= N["line_least_pm"] and 10 * abs(mean) > N["tell_errors_x10"] * error
    most = N["line_most_pm"]
    return Keeper(round(min(most, max(-most, mean))), round(error), n, seasons, enough and clear)


def fed_a_day_g(season: Season) -> float | None:
    """Hay and grain a day from breeding to kidding, as fed; None where too few days are known."""
    early, late = season.phases["early"], season.phases["late"]
    if not (early.covered and late.covered):
        return None
    return sum(fed.hay_g + fed.grain_g for fed in (early, late)) / (early.days + late.days)


def _held(season: Season) -> bool:
    bred, kid = season.scores.get("bred"), season.scores.get("kid")
    if bred is None or kid is None or not fed_a_day_g(season):
        return False
    return abs(kid - bred) <= N["held_x100"] and N["held_low_x100"] <= kid <= N["held_high_x100"]


def _away(held: list[Season], sizes: Mapping[str, str]) -> list[tuple[Season, float]]:
    """Permille of the usual, each against the others of her year and size."""
    groups: dict[tuple[str, str], list[tuple[Season, float]]] = {}
    for one in held:
        key = (one.kidding.on[:4], sizes[one.kidding.doe])
        groups.setdefault(key, []).append((one, fed_a_day_g(one) or 0))
    found = []
    for rows in groups.values():
        for one, g in rows:
            others = [other for season, other in rows if season.kidding.doe != one.kidding.doe]
            if len(others) >= N["line_others_n"]:
                usual = median(others)
                found.append((one, 1000 * (g - usual) / usual))
    return found
