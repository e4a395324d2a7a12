"""What her dates go by, from her record: services, marks, heats and scans of this pregnancy, and kiddings before it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from herd.science.dates.conception import Evidence
from herd.science.dates.gestation import Chances

from .dates import Day, day, iso

EARLY, LATE = 0.02, 0.98
# Beyond these a date is of another season, or a slip of the pen.
EARLIER_D, AFTER_D, SCAN_OFF_D = 60, 60, 100
SCAN_REACH_D = 30
# Of one heat: a service said over more days dates a kidding too loosely to learn her own length from.
KNOWN_SERVICE_D = 2
OWN_D = (135, 165)
# By then every heat of hers was met; whoever never wrote him out has her dates end somewhere.
STILL_MOST_D = 120


def with_the_buck_in(doe: Mapping[str, Any], today: Day) -> Mapping[str, Any]:
    """A buck who is still in may have served her any day up to today, whatever day that was written down on."""
    bred = doe["bred"]
    if not bred or not bred.get("still"):
        return doe
    to = iso(max(day(bred["to"]), min(today, day(bred["from"]) + STILL_MOST_D)))
    rows = [{**row, "to": to} if row["ev"] == bred["ev"] else row for row in _rows(doe, "services")]
    return {**doe, "bred": {**bred, "to": to}, "services": rows}


def evidence(doe: Mapping[str, Any]) -> tuple[Day, Evidence]:
    """All that is known of the pregnancy she is in, and the day everything in it is counted from."""
    first, last = _window(doe["bred"])
    windows = [*_before(doe, first, last), (first, last, doe["bred"]["how"] == "hand")]
    if doe["bred"]["how"] == "hand" and last - first > 0 and _with_the_buck(doe, first, last):
        windows[-1] = (first, last, False)
    windows += [(on, on, True) for on in _seen_inside(doe, first, last) if first < last]
    start = min(one for one, _, _ in windows)
    scans = _scans(doe, first, last)
    heats = [(day(row[0]), row[2]) for row in _rows(doe, "heats") if _counts(doe, row[0])]
    heats = [(on, what) for on, what in heats if start <= on <= last + AFTER_D]
    day0 = min([start, *(on - aged_d - SCAN_REACH_D for on, aged_d in scans)])
    return day0, Evidence(
        exposures=tuple((one - day0, other - day0, seen) for one, other, seen in windows),
        marks=tuple(sorted({on - day0 for on, what in heats if what == "marked"})),
        heats=tuple((on - day0, what == "standing") for on, what in heats if what != "marked"),
        scans=tuple((on - day0, aged_d) for on, aged_d in scans),
    )


def likely(settled: Chances) -> tuple[int, int]:
    """First and last day she settled on, as far as one in fifty goes at each end."""
    gone, first, last = 0.0, settled[-1][0], settled[-1][0]
    for on, chance, _ in settled:
        gone += chance
        if gone >= EARLY:
            first = min(first, on)
        if gone >= LATE:
            return first, on
    return first, last


def is_apart(settled: Chances, known: Evidence) -> bool:
    """A scan is believed more than every service that was recorded."""
    said = {on for first, last, _ in known.exposures for on in range(first, last + 1)} | set(known.marks)
    return bool(known.scans) and sum(chance for on, chance, _ in settled if on in said) < 1 / 2


def past_gestations(doe: Mapping[str, Any]) -> tuple[float, ...]:
    """Days from each known service of hers to its kidding."""
    spans = [(day(row["to"]) - day(row["from"]), day(row["on"]) - day(row["from"])) for row in _rows(doe, "gestations")]
    known = [until_d - over_d / 2 for over_d, until_d in spans if over_d <= KNOWN_SERVICE_D]
    return tuple(length for length in known if OWN_D[0] <= length <= OWN_D[1])


def _rows(doe: Mapping[str, Any], part: str) -> Sequence[Any]:
    """A row that an older build folded lacks what it did not know of."""
    rows: Sequence[Any] = doe.get(part, ())
    return rows


def _window(row: Mapping[str, Any]) -> tuple[Day, Day]:
    return day(row["from"]), day(row["to"])


def _counts(doe: Mapping[str, Any], on: str) -> bool:
    """Seen since she was last found open or kidded."""
    return bool(on >= doe.get("open_on", ""))


def _before(doe: Mapping[str, Any], first: Day, last: Day) -> list[tuple[Day, Day, bool]]:
    """Services before the one her record goes by: she was taken for open, and may have been carrying all the same."""
    said = [(*_window(row), row["how"] == "hand") for row in _rows(doe, "services") if _counts(doe, row["from"])]
    rows = {row for row in said if first - EARLIER_D <= row[0] < first}
    return sorted(row for row in rows if not any(_holds(other, row) for other in rows | {(first, last, False)}))


def _holds(other: tuple[Day, Day, bool], row: tuple[Day, Day, bool]) -> bool:
    """The days of the one are among the other's: told twice, the second time until later."""
    return other[:2] != row[:2] and other[0] <= row[0] and row[1] <= other[1]


def _seen_inside(doe: Mapping[str, Any], first: Day, last: Day) -> list[Day]:
    """Days she was seen served while the buck was in with her."""
    if not _with_the_buck(doe, first, last):
        return []
    rows = [_window(row) for row in _rows(doe, "services") if row["how"] == "hand" and _counts(doe, row["from"])]
    return sorted({one for one, other in rows if first <= one == other <= last})


def _with_the_buck(doe: Mapping[str, Any], first: Day, last: Day) -> bool:
    rows = [_window(row) for row in _rows(doe, "services") if row["how"] == "pen" and _counts(doe, row["from"])]
    return any(first <= one < other <= last for one, other in rows)


def _scans(doe: Mapping[str, Any], first: Day, last: Day) -> list[tuple[Day, int]]:
    """(day, days along) of the scans that gave her an age; one that is of no such pregnancy tells nothing."""
    carrying = [row for row in _rows(doe, "checks") if row["result"] == "pregnant" and row["on"] >= doe["bred"]["from"]]
    found = [(day(row["on"]), int(row["aged_d"])) for row in carrying if row["aged_d"] and _counts(doe, row["on"])]
    return [(on, aged_d) for on, aged_d in found if first - SCAN_OFF_D <= on - aged_d <= last + SCAN_OFF_D]
