"""The chance near kidding in its exact form, from what a phone has: her dates by day, looks, and an instant."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from itertools import accumulate

from herd.outlook.compiling.signs import GAPS_H
from herd.outlook.tables import NUMBERS
from herd.science.dates.near_kidding import Finding, after_looks, half_hours
from herd.science.dates.signs import SIGNS

HOUR_MS = 3_600_000
Row = tuple[int, Sequence[str], Sequence[str]]


def findings_of(rows: Sequence[Row], now_ms: int) -> list[Finding]:
    """Of each sign what is known at an instant; the gap of a new one as the tables have it."""
    held_ms = int(NUMBERS["told_back_d"]["value"]) * 24 * HOUR_MS
    lately = [row for row in rows if row[0] <= now_ms and now_ms - row[0] < held_ms]
    return [one for sign in SIGNS for one in _finding(sign, lately, now_ms)]


def _finding(sign: str, rows: Sequence[Row], now_ms: int) -> list[Finding]:
    gone = max((at for at, (_, _, absent) in enumerate(rows) if sign in absent), default=-1)
    found = next((at for at, (_, seen, _) in enumerate(rows) if at > gone and sign in seen), None)
    if found is None:
        return [] if gone < 0 else [Finding(sign, "absent", (now_ms - rows[gone][0]) / HOUR_MS)]
    ago_h = (now_ms - rows[found][0]) / HOUR_MS
    gap_h = (rows[found][0] - rows[gone][0]) / HOUR_MS if gone >= 0 else 10_000
    known = next((gap for gap in GAPS_H if gap_h <= gap), None)
    return [Finding(sign, "present", ago_h) if known is None else Finding(sign, "new", ago_h, known)]


class Dates:
    """Chance of each day from the first, spread evenly over its hours."""

    def __init__(self, ppm: Sequence[int]) -> None:
        self.ppm = ppm
        self.by = [0, *accumulate(ppm)]

    def kidded_by(self, hours: float) -> float:
        """Millionths by so many hours after the first of the days began."""
        day = bisect_right(range(len(self.ppm)), hours / 24) - 1
        if day < 0:
            return 0.0
        return self.by[day] + self.ppm[day] * min(1.0, hours / 24 - day)

    def ahead(self, now_h: float, findings: Sequence[Finding]) -> list[float]:
        """Chance by half hour from an instant, so many hours after the first of the days began; the careful set."""
        left = 24 * len(self.ppm) - now_h
        prior, leads_h = half_hours(lambda hours: self.kidded_by(now_h + hours), left)
        return after_looks(prior, leads_h, findings)
