"""A farm's log read once for the years: what lasts is held, meals and milkings go by day after day and are not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from heapq import merge
from itertools import groupby
from operator import itemgetter
from typing import Any

from herd.models import Event
from herd.models.event import OK
from herd.state.doe_state import feeding_of, intake_of
from herd.state.kinds import CHAINS
from herd.state.order import by_time, content, text, whole
from herd.state.sift import sift

from .wire import replay

Fact = dict[str, Any]
LASTING = (
    *("doe", "pen", "feed", "lot", "kid", "rules"),
    *("bred", "preg_check", "moved", "dried_off", "kidded", "left_herd"),
    *("score", "signs", "checkup"),
)
DAILY = ("fed", "intake", "milk")
CHUNK = 500


def lasting(farm_id: str) -> list[Fact]:
    """Records, turns and looks, and all that was taken back or put right."""
    rows = Event.objects.filter(farm_id=farm_id, fold_status=OK, kind__in=(*LASTING, *CHAINS))
    return [replay(raw, eff) for raw, eff in rows.values_list("raw", "eff").iterator(CHUNK)]


@dataclass
class OneDay:
    """What was fed, left and milked on a date."""

    on: str
    feedings: list[Fact] = field(default_factory=list)
    intakes: list[Fact] = field(default_factory=list)
    milk_g: dict[str, int] = field(default_factory=dict)


def days(farm_id: str, links: list[Fact]) -> Iterator[OneDay]:
    """Day after day. A meal may be judged on the day after it: so each waits for the next."""
    before = OneDay("")
    known: dict[str, Fact] = {}
    for on, events in groupby(_in_order(farm_id, links), key=itemgetter(0)):
        now = OneDay(on)
        timed = sorted(sift([event for _, event in events], ()).counts, key=by_time)
        feedings = {event["id"]: feeding_of(event) for event in timed if event["kind"] == "fed"}
        now.feedings, known = list(feedings.values()), known | feedings
        for event in timed:
            if event["kind"] == "intake":
                made = intake_of(event, known)
                (before if made["on"] == before.on else now).intakes.append(made)
            elif event["kind"] == "milk":
                milked = now.milk_g.get(event["subject"], 0)
                now.milk_g[event["subject"]] = milked + whole(event["data"], "g")
        yield before
        before, known = now, feedings
    yield before


def _in_order(farm_id: str, links: list[Fact]) -> Iterable[tuple[str, Fact]]:
    """By the day it counts for; what was taken back is left out, what was put right stands on the day it was put to."""
    named = {text(content(link), "of") for link in links}
    kinds = [_of_kind(farm_id, kind, named) for kind in DAILY]
    ids = sorted(named)
    told = [event for first in range(0, len(ids), CHUNK) for event in _told(farm_id, ids[first : first + CHUNK])]
    settled = sorted(((event["on"], event) for event in sift([*told, *links], ()).counts), key=itemgetter(0))
    return merge(*kinds, settled, key=itemgetter(0))


def _told(farm_id: str, ids: Sequence[str]) -> list[Fact]:
    rows = Event.objects.filter(farm_id=farm_id, fold_status=OK, kind__in=DAILY, id__in=ids)
    return [replay(raw, eff) for raw, eff in rows.values_list("raw", "eff")]


def _of_kind(farm_id: str, kind: str, named: set[str]) -> Iterator[tuple[str, Fact]]:
    rows = Event.objects.filter(farm_id=farm_id, kind=kind, fold_status=OK).order_by("on")
    for mark, on, raw, eff in rows.values_list("id", "on", "raw", "eff").iterator(CHUNK):
        if mark not in named:
            yield on, replay(raw, eff)
