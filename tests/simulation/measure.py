"""From rows to shares, each a number of a whole: what was named, what was told wrongly, how often the bands hold."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import groupby
from math import log
from statistics import fmean, pstdev

from .rows import Row

MONTH_D = 30.4
# What says "she is short", or is the cautious act in that direction; and what says "over".
THIN_CODES = ("condition_thin", "condition_thin_late", "condition_ahead_low")
SHORT_CODES = ("energy_short", "energy_heading_short", "net_cut_late", *THIN_CODES)
FALSE_SHORT_CODES = ("energy_short", "energy_heading_short", "net_cut_late", "condition_ahead_low")
OVER_CODES = ("energy_over", "energy_heading_over")
RUN_D, NAMED_D = 5, 5
FAT, LATE_GEST, THIN = 3.5, 100, 2.5
LEVEL_LOW_PM, LEVEL_HIGH_PM, AHEAD_D, QUIET_D = 920, 1080, 14, 7
OVER_PM, POINT_LOW_PM, POINT_HIGH_PM = 1050, 920, 1080
Says = Callable[[Row], str]
Life = list[Row]


@dataclass(frozen=True, slots=True)
class Share:
    n: float
    of: float

    @property
    def pct(self) -> float:
        return 100 * self.n / self.of if self.of else float("nan")


def lives(rows: Iterable[Row]) -> list[Life]:
    def key(row: Row) -> tuple[str, str]:
        return row.farm, row.doe

    return [list(days) for _, days in groupby(sorted(rows, key=lambda r: (*key(r), r.day)), key)]


def ours(row: Row) -> str:
    return "short" if row.code in SHORT_CODES else "over" if row.code in OVER_CODES else ""


def point(row: Row) -> str:
    """What the ratio alone would say, outside 8 %: without band, witness, score or floor."""
    if row.pm <= 0 or row.st == "unknown":
        return ""
    return "short" if row.pm < POINT_LOW_PM else "over" if row.pm > POINT_HIGH_PM else ""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Five days running truly short. `at` is the row of the fifth day, or of the first look where it came before."""

    at: Row
    named: bool
    instead: str


def left_out(row: Row) -> bool:
    return row.condition >= FAT and row.gest < LATE_GEST


def stretches(life: Life, says: Says = ours) -> list[Stretch]:
    """Each with whether it was named from its first day to five days after its fifth; one that ends too late is not."""
    found, last = list[Stretch](), life[-1].day
    by_day = {row.day: row for row in life}
    open_run = False
    for row in life:
        if row.short_d < RUN_D or left_out(row):
            open_run = open_run and row.short_d >= RUN_D
            continue
        if open_run:
            continue
        open_run = True
        span = [by_day[d] for d in range(row.day - RUN_D, row.day + NAMED_D + 1) if d in by_day]
        named = any(says(day) == "short" for day in span)
        if named or row.day + NAMED_D <= last:
            found.append(Stretch(row, named, "" if named else span[-1].code or "nothing"))
    return found


def named(rows: Iterable[Row], says: Says = ours) -> list[Stretch]:
    return [stretch for life in lives(rows) for stretch in stretches(life, says)]


def share_named(found: Iterable[Stretch]) -> Share:
    found = list(found)
    return Share(sum(one.named for one in found), len(found))


def told_over_wrongly(rows: list[Row], says: Says = ours) -> Share:
    return Share(sum(len(wrongly_over(life, says)) for life in lives(rows)), len(rows))


def wrongly_over(life: Life, says: Says = ours) -> Life:
    """Told over (heading over: and stays so to the end) at or under 105 % and under 3.5; or at 2.5 or less."""
    wrong = Life()
    for k, row in enumerate(life):
        later = life[k:] if row.code == "energy_heading_over" else [row]
        level = all(one.true_pm <= OVER_PM for one in later) and row.condition < FAT
        if says(row) == "over" and (level or row.condition <= THIN):
            wrong.append(row)
    return wrong


def level(life: Life, k: int, word: str) -> bool:
    """Nothing is truly wrong that way on a day, nor comes so within a week, or two where it is told ahead."""
    ahead = AHEAD_D if "heading" in life[k].code or life[k].code == "condition_ahead_low" else QUIET_D
    near = [row for row in life if 0 <= row.day - life[k].day <= ahead]
    if word == "short":
        return not any(truly_short(row) for row in near)
    return all(row.true_pm <= LEVEL_HIGH_PM and row.condition < FAT for row in near)


def truly_short(row: Row) -> bool:
    """Thin, or under what she could have eaten to of such hay, or of better: early that is her need."""
    return row.could_pm < LEVEL_LOW_PM or row.condition <= THIN or row.dense_pm < LEVEL_LOW_PM


def false_words(life: Life, says: Says = ours) -> list[int]:
    """Places of the days on which an energy word stands though nothing is truly wrong that way."""
    words = [
        (k, says(row)) for k, row in enumerate(life) if row.code in (*FALSE_SHORT_CODES, *OVER_CODES) or says is point
    ]
    return [k for k, word in words if word and level(life, k, word)]


def false_days(rows: list[Row], says: Says = ours) -> Share:
    return Share(sum(len(false_words(life, says)) for life in lives(rows)), len(rows))


def false_a_month(rows: list[Row], says: Says = ours) -> Share:
    """Episodes: a false day with no word the same way in the week before. Of doe-months."""
    found = 0
    for life in lives(rows):
        for k in false_words(life, says):
            before = [one for one in life[:k] if life[k].day - one.day <= QUIET_D]
            found += not any(says(one) == says(life[k]) for one in before)
    return Share(found, len(rows) / MONTH_D)


def asked_often(rows: list[Row], apart_d: int = 14) -> Share:
    """Does told "score her" anew within a fortnight of having been told; standing on from day to day is once."""
    often, all_lives = 0, lives(rows)
    for life in all_lives:
        days = [row.day for row in life if row.code == "score_her"]
        starts = [day for day in days if day - 1 not in days]
        often += any(b - a <= apart_d for a, b in zip(starts, starts[1:], strict=False))
    return Share(often, len(all_lives))


@dataclass(frozen=True, slots=True)
class Held:
    inside: Share
    below: Share
    above: Share


def bands(rows: Iterable[Row]) -> Held:
    """Where the true ratio lay beside the stated 80 % band, on days with enough confirmed days."""
    used = judged(rows)
    below, above = (sum(row.true_pm < row.lo for row in used), sum(row.true_pm > row.hi for row in used))
    return Held(Share(len(used) - below - above, len(used)), Share(below, len(used)), Share(above, len(used)))


def judged(rows: Iterable[Row]) -> list[Row]:
    """Days with a band and enough confirmed days."""
    return [row for row in rows if row.lo >= 0 and row.pm > 0 and row.st != "unknown" and row.days >= 5]


def errors(rows: Iterable[Row]) -> tuple[float, float, float, float]:
    """Per cent, mean and SD: by how much the stated need lies over the true, and what she truly ate over the stated."""
    used = judged(rows)
    need = [100 * log(row.need_pm / 1000) for row in used] or [0.0]
    eaten = [100 * log(row.true_pm / row.pm) - of_need for row, of_need in zip(used, need, strict=False)] or [0.0]
    return fmean(need), pstdev(need), fmean(eaten), pstdev(eaten)


def contradictions(rows: Iterable[Row]) -> Share:
    """Doe-evenings on which the pen is told one way and she the other, and not that she is fed apart from it."""
    used = [row for row in rows if row.pen_code]
    words = {**dict.fromkeys(SHORT_CODES, "short"), **dict.fromkeys((*OVER_CODES, "condition_fat"), "over")}
    wrong = sum({words.get(row.pen_code), words.get(row.code)} == {"short", "over"} and not row.apart for row in used)
    return Share(wrong, len(used))
