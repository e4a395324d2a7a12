"""A doe's folded row taken further by what was seen of her since: what her whole log folds to, without reading it.

Only for what changes nothing else: a score, a weight, a milking, put among her latest. Where one of those was taken
back or corrected she is folded whole, as for everything that is not merely seen.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from herd.models import Folded
from herd.state.doe_state import observe
from herd.state.order import Event
from herd.state.readable import readable

from .append import Entry
from .wire import canonical, decode, replay

# An outlook looks back a month of milkings, and to the last few scores and weights.
MOST = {"milk": 120, "score": 40, "weight": 40}
PART = {"milk": "milks", "score": "scores", "weight": "weights"}
# [happened, stamp, id, whether it stands in the list]: one that cannot be read holds its place all the same.
Mark = list[Any]
Tail = dict[str, list[Mark]]
Seen = Mapping[str, Sequence[Entry]]


def merely_seen(kind: str) -> bool:
    return kind in MOST


def tail_of(doe: Mapping[str, Any], places: Iterable[tuple[Any, ...]]) -> str:
    """`places`: (kind, happened, stamp, id) of the rows her lists were folded from, in any order."""
    tail: Tail = {kind: [] for kind in MOST}
    shown = {row[-1] for part in PART.values() for row in doe[part]}
    for kind, *key in sorted(places):
        tail[kind].append([*key, key[-1] in shown])
    return canonical(tail)


@dataclass(slots=True)
class Taken:
    """Rows as they are now, not yet stored; of which the content is another; and who must be folded whole."""

    rows: list[Folded] = field(default_factory=list)
    moved: set[str] = field(default_factory=set)
    left: set[str] = field(default_factory=set)


def further(farm_id: str, seen: Seen) -> Taken:
    found = Taken(left=set(seen))
    rows = Folded.objects.filter(farm_id=farm_id, subject__in=seen, kind="doe").exclude(tail="")
    for subject, json, tail, stale in rows.values_list("subject", "json", "tail", "stale") if seen else ():
        doe, marks, moved = decode(json), decode(tail), False
        for entry in seen[subject]:
            moved = _placed(doe[PART[entry.kind]], marks[entry.kind], entry) or moved
        now = Folded(farm_id=farm_id, subject=subject, kind="doe", stale=stale or moved, tail=canonical(marks))
        now.json = canonical(doe) if moved else json
        found.rows.append(now)
        found.left.discard(subject)
        found.moved |= {subject} if moved else set()
    return found


def _placed(rows: list[Any], marks: list[Mark], entry: Entry) -> bool:
    """Put it where it belongs, and let go of the oldest one too many. Whether the list is another now."""
    key = [int(entry.happened_ms), entry.hlc, entry.id]
    at = bisect_left(marks, key, key=lambda mark: mark[:3])
    full = len(marks) >= MOST[entry.kind]
    if full and at == 0:
        return False
    row = _row(entry)
    marks.insert(at, [*key, row is not None])
    if row is not None:
        rows.insert(sum(mark[3] for mark in marks[:at]), row)
    gone = full and marks.pop(0)[3]
    if gone:
        rows.pop(0)
    return row is not None or bool(gone)


def _row(entry: Entry) -> Any:
    event: Event = replay(entry.raw, entry.eff)
    # One whose day nobody knows counts for nothing until somebody says it.
    if not readable(event) or "odd" in event:
        return None
    doe: dict[str, Any] = {part: [] for part in PART.values()}
    observe(doe, event)
    return doe[PART[entry.kind]][0]
