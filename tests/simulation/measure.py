"""From rows to tables: how often the bands hold, how often it speaks, what it finds and how late."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import groupby
from math import log, sqrt
from statistics import fmean, median, pstdev

from .farm import Row

MONTH_D = 30.4
QUIET_D = 7
LATE_DAY = 100
SHORT_WORDS = ("energy_short", "energy_heading_short", "net_cut_late")
OVER_WORDS = ("energy_over", "energy_heading_over")
Says = Callable[[Row], str]
Life = list[Row]


def group(row: Row) -> str:
    """The kinds of day whose errors differ."""
    if row.kind == "milking":
        return "fresh, 21 days" if row.phase == 8 else "milking"
    return f"{row.kind}, late" if row.gest >= LATE_DAY else row.kind


def lives(rows: Iterable[Row]) -> list[Life]:
    """The days of each doe in order."""

    def key(row: Row) -> tuple[str, int, str]:
        return row.regime, row.farm, row.doe

    return [list(days) for _, days in groupby(sorted(rows, key=lambda r: (*key(r), r.day)), key)]


@dataclass(frozen=True, slots=True)
class Held:
    """Errors of a group in per cent: of true over stated ratio and of its two parts; and shares of days."""

    days: int
    bias: float
    sd: float
    inside: float
    below: float
    above: float
    half: float
    p10: float
    p90: float
    need_bias: float
    need_sd: float
    supply_bias: float
    supply_sd: float


def held(rows: Iterable[Row]) -> Held | None:
    """How the band [lo, hi] held on days with enough confirmed days; None where there were none."""
    used = [row for row in rows if row.pm > 0 and row.state != "unknown" and row.days >= 5]
    if not used:
        return None
    errors = sorted(log(row.true_pm / row.pm) for row in used)
    needs = [log(row.need_pm / 1000) for row in used]
    supplies = [error - need for error, need in zip((log(r.true_pm / r.pm) for r in used), needs, strict=True)]
    banded = [row for row in used if row.lo >= 0]
    n = max(1, len(banded))
    return Held(
        days=len(used),
        bias=100 * fmean(errors),
        sd=100 * pstdev(errors),
        inside=100 * sum(row.lo <= row.true_pm <= row.hi for row in banded) / n,
        below=100 * sum(row.true_pm < row.lo for row in banded) / n,
        above=100 * sum(row.true_pm > row.hi for row in banded) / n,
        half=100 * fmean((row.hi - row.lo) / 2 / row.pm for row in banded) if banded else 0.0,
        p10=100 * errors[len(errors) // 10],
        p90=100 * errors[-1 - len(errors) // 10],
        need_bias=100 * fmean(needs),
        need_sd=100 * pstdev(needs),
        supply_bias=100 * (fmean(errors) - fmean(needs)),
        supply_sd=100 * pstdev(supplies),
    )


def ours(row: Row) -> str:
    """The energy word on screen, if any."""
    return "short" if row.code in SHORT_WORDS else "over" if row.code in OVER_WORDS else ""


def ours_or_score(row: Row) -> str:
    """The same, with "score her" counted as having spoken."""
    return "short" if row.code == "score_her" else ours(row)


def point_rule(band_pm: int) -> Says:
    """What a point estimate would say: out of its band, late too, without score, witness or floor."""

    def says(row: Row) -> str:
        if row.pm <= 0 or row.state == "unknown":
            return ""
        return "short" if row.pm < 1000 - band_pm else "over" if row.pm > 1000 + band_pm else ""

    return says


def episodes(life: Life, says: Says) -> list[tuple[int, str]]:
    """(first day, word) of each time it speaks anew: the same word within a week is the same episode."""
    found, last = [], dict[str, int]()
    for row in life:
        word = says(row)
        if word:
            if row.day - last.get(word, -99) > QUIET_D:
                found.append((row.day, word))
            last[word] = row.day
    return found


def a_month(rows: list[Row], says: Says) -> float:
    """Episodes per doe and month."""
    all_lives = lives(rows)
    days = sum(life[-1].day - life[0].day + 1 for life in all_lives)
    return sum(len(episodes(life, says)) for life in all_lives) * MONTH_D / max(1, days)


def false_a_month(rows: list[Row], says: Says) -> float:
    """Episodes per doe and month that start while she is truly level and stays so for a week."""
    all_lives = lives(rows)
    days = sum(life[-1].day - life[0].day + 1 for life in all_lives)
    wrong = 0
    for life in all_lives:
        by_day = {row.day: row for row in life}
        for day, word in episodes(life, says):
            near = [by_day[d] for d in range(day, day + 8) if d in by_day]
            wrong += not any(truth(row) == word or leaning(row) == word for row in near)
    return wrong * MONTH_D / max(1, days)


def truth(row: Row) -> str:
    """Truly out: a tenth short of what she needs and could have eaten (a fifth when fresh), or 15 % over, not late."""
    if row.could_pm < (800 if row.phase == 8 else 900) and (row.gest >= LATE_DAY or row.true_pm < 900):
        return "short"
    return "over" if row.true_pm > 1150 and row.gest < LATE_DAY and row.kind != "milking" else ""


def leaning(row: Row) -> str:
    """On her way out: past half the distance."""
    if row.could_pm < 950 and row.true_pm < 950:
        return "short"
    return "over" if row.true_pm > 1080 and row.gest < LATE_DAY else ""


@dataclass(frozen=True, slots=True)
class Found:
    """Truly short or over episodes of ten days and more: how many were spoken of, and after how many days."""

    episodes: int
    found: float
    delay_d: float


TRUE_D, BEFORE_D = 10, 7


def true_episodes(life: Life, word: str) -> list[tuple[int, int]]:
    """(first, last day) of stretches truly out, gaps of up to three days bridged."""
    days = [row.day for row in life if truth(row) == word]
    found: list[list[int]] = []
    for day in days:
        if found and day - found[-1][1] <= 3:
            found[-1][1] = day
        else:
            found.append([day, day])
    return [(first, last) for first, last in found if last - first + 1 >= TRUE_D]


def detection(rows: list[Row], word: str, says: Says) -> Found:
    """Spoken of between a week before it is true and its last day. A word already on screen counts at once."""
    delays, count = [], 0
    for life in lives(rows):
        for first, last in true_episodes(life, word):
            count += 1
            said = [row.day for row in life if first - BEFORE_D <= row.day <= last and says(row) == word]
            if said:
                delays.append(max(0, said[0] - first))
    return Found(count, 100 * len(delays) / count if count else 0.0, median(delays) if delays else 0.0)


def equal_detection(rows: list[Row], word: str, share: float) -> int:
    """Band of the point rule at which it finds just as large a share."""
    bands = range(600, 0, -5)
    return next((band for band in bands if detection(rows, word, point_rule(band)).found >= share), 5)


def spread_of(errors: list[float]) -> float:
    """Root of the mean square."""
    return sqrt(fmean(e * e for e in errors)) if errors else 0.0
