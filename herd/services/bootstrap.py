"""A new phone's start: a short list of events that folds to the farm as it is, never the whole log."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from django.db.models import Q

from herd.models import Event, Farm, Folded
from herd.models.event import OK, PARKED, REFUSED
from herd.state.kinds import CHAINS, KINDS, RECORDS, SEEN
from herd.state.order import content, text
from herd.state.readable import readable
from herd.state.tables import KEPT

from .adviser_view import AdviserView
from .changes import ROW, Page, as_sent, outlook_docs, raw_json
from .clock import day_of, now_ms
from .cursor_marks import mark_of
from .last_night import LASTING, LastNight, last_night, put_down
from .last_seen import latest, told_of
from .one_moment import one_moment
from .recompile import due_today
from .short_list import needed_rations, needed_records
from .versions import MIN_APP
from .wire import NOTHING, canonical, replay

WINDOW_DAYS: int = KEPT["days"]
MARGIN_DAYS: int = KEPT["margin_days"]
# Taken-back ones hold their places too: what is kept must only ever grow less as entries come in, or a phone that let
# one go could not tell that it is wanted again.
LATEST: dict[str, int] = KEPT["latest"]
OF_DOES = {kind: most for kind, most in LATEST.items() if KINDS[kind].about}
OF_BARN = {kind: most for kind, most in LATEST.items() if not KINDS[kind].about}


@dataclass(frozen=True, slots=True)
class Kept:
    """A row of the log; `event` is what can be read of it, which may be nothing."""

    seq: int
    id: str
    kind: str
    status: str
    on: str
    subject: str
    # As the log has it, in the order of ROW.
    row: tuple[Any, ...]
    event: dict[str, Any]

    @property
    def as_row(self) -> tuple[Any, ...]:
        """As it was sent; of a row that is no entry at all its id, which every phone can name."""
        return (*self.row[:3], canonical({"id": self.id}), *self.row[4:]) if self.event == NOTHING else self.row

    @property
    def of(self) -> str:
        """What a void or a correction names."""
        return text(content(self.event), "of")


def bootstrap(farm_id: str, reader: str = "", only: AdviserView | None = None) -> Page:
    with one_moment():
        farm = Farm.objects.get(pk=farm_id)
        events = [one.as_row for one in snapshot(farm)]
        docs = outlook_docs(farm, 0, only=only)
        events = only.shown(events) if only else events
    return {
        "snapshot": True,
        "epoch": farm.epoch,
        "events": [as_sent(farm_id, reader, row) for row in events],
        "outlooks": [raw_json(doc) for _, doc in docs],
        "seq": farm.seq,
        "outlook_rev": farm.outlook_rev,
        "signed": mark_of(farm_id, farm.epoch, farm.seq, farm.outlook_rev),
        "more": False,
        "outlooks_due": due_today(farm),
        "now": now_ms(),
        "min_app": MIN_APP,
    }


def since_stamp() -> str:
    """What was written after it is kept whole: it may still be taken back or put right."""
    return f"{now_ms() - WINDOW_DAYS * 86_400_000:012x}"


def cutoff_of(farm: Farm) -> str:
    return (day_of(now_ms(), farm.zone) - timedelta(days=WINDOW_DAYS)).isoformat()


def snapshot(farm: Farm) -> list[Kept]:
    """The events a new phone needs, in the order of the log."""
    short = last_night(farm)
    found = _snapshot(farm, short) if short else None
    return _whole(farm) if found is None else found


def shorten(farm_id: str) -> None:
    """Once a night: what is found on the way through the whole log is put down for those who come next."""
    with one_moment():
        farm = Farm.objects.get(pk=farm_id)
        since, found = since_stamp(), _whole(farm)
    put_down(farm, since, ((one.seq, one.kind, one.status) for one in found))


def _whole(farm: Farm) -> list[Kept]:
    found = _snapshot(farm, None)
    assert found is not None
    return found


def _snapshot(farm: Farm, short: LastNight | None) -> list[Kept] | None:
    """None where what came since `short` needs what it left out."""
    cutoff = cutoff_of(farm)
    edge = (day_of(now_ms(), farm.zone) - timedelta(days=WINDOW_DAYS + MARGIN_DAYS)).isoformat()
    log = Event.objects.filter(farm=farm)
    lasting = _load(log.filter(short.lasting() if short else Q(), kind__in=LASTING, fold_status=OK))
    # An old observation of a doe nobody has named yet is as old as any other.
    # The waits_for says nothing but which index to go by.
    waiting = _load(log.filter(fold_status=PARKED, waits_for__gte=""))
    parked = [one for one in waiting if one.kind not in SEEN or one.on >= edge]
    links = [one for one in (*lasting, *parked) if one.kind in CHAINS]
    recent = _load(log.filter(kind__in=SEEN, on__gte=edge, fold_status=OK))
    old = _load(log.filter(seq__in=_old_but_needed(farm, edge, links, waiting)))
    loaded = (*lasting, *recent, *old, *parked)
    if short and not short.holds(((one.seq, one.of) for one in links), {one.id: one.kind for one in loaded}):
        return None
    keep = {one.id for one in (*parked, *recent, *old)} | _lasting(lasting, _named(links), cutoff)
    found = [one for one in loaded if one.kind not in CHAINS and one.id in keep] + _links_of(links, keep)
    return sorted({one.seq: one for one in found}.values(), key=lambda one: one.seq)


def _load(rows: Any) -> list[Kept]:
    """In no order: asked for one, SQLite reads the whole log along its key."""
    found = rows.values_list(*ROW, "kind", "on", "subject")
    return [
        Kept(row[0], row[4], kind, row[1], on, subject, tuple(row), replay(row[3], row[2]))
        for *row, kind, on, subject in found
    ]


def _lasting(lasting: list[Kept], linked: set[str], cutoff: str) -> set[str]:
    """What nobody can read stays on the list: a new phone names the same entries as all others."""
    unread = {one.id for one in lasting if not readable(one.event)}
    events = [one.event for one in lasting if one.id not in unread]
    records = [event for event in events if event["kind"] in RECORDS]
    rations = [event for event in events if event["kind"] == "ration"]
    states = {event["id"] for event in events if event["kind"] not in (*RECORDS, *CHAINS, "ration")}
    since = since_stamp()
    needed = needed_records(records, linked, since) | needed_rations(rations, linked, since, cutoff)
    return states | unread | needed


def _named(links: list[Kept], *kinds: str) -> set[str]:
    return {one.of for one in links if not kinds or one.kind in kinds}


def _old_but_needed(farm: Farm, edge: str, links: list[Kept], waiting: list[Kept]) -> list[int]:
    """Corrected ones, whose date may have moved, and the latest scores, weights and milks of each doe."""
    rows = Event.objects.filter(farm=farm).exclude(fold_status=REFUSED)
    corrected = rows.filter(kind__in=SEEN, on__lt=edge, id__in=_named(links, "correct"))
    found = list(corrected.values_list("seq", flat=True))
    known = Folded.objects.filter(farm=farm, kind="doe").values_list("subject", flat=True)
    unknown = {one.subject for one in waiting if one.kind in OF_DOES}
    found += [seq for (seq,) in latest(farm.id, {*known, *unknown}, OF_DOES, ("seq",), edge)]
    return found + [seq for (seq,) in latest(farm.id, told_of(farm.id, OF_BARN), OF_BARN, ("seq",), edge)]


def _links_of(links: list[Kept], keep: set[str]) -> list[Kept]:
    """Voids and corrections of anything kept, and those of these. What a phone would let go goes: a link to what is not
    on the list, and links to that one. One that names nothing stays, and so does a ring of them."""
    here = keep | {one.id for one in links}
    by_target: dict[str, list[str]] = {}
    for one in links:
        if one.status != PARKED and one.of:
            by_target.setdefault(one.of, []).append(one.id)
    gone: set[str] = set()
    left = [of for of in by_target if of not in here]
    while left:
        now = [link for link in by_target.get(left.pop(), ()) if link not in gone]
        gone.update(now)
        left += now
    return [one for one in links if one.id not in gone]
