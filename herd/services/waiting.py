"""Parked events: taken up when what they wait for appears, set aside again when it goes."""

from __future__ import annotations

import logging
from collections.abc import Mapping, Sequence
from typing import Any

from django.db.models import F

from herd.models import Event
from herd.models.event import OK, PARKED
from herd.state.kinds import KINDS, SHAPES_OUTLOOK

from .judge import Log, Place, names, place
from .refold import Refolded, refold
from .wire import replay

log = logging.getLogger(__name__)
NEED_A_SUBJECT = tuple(kind.name for kind in KINDS.values() if kind.about)


def settle(farm_id: str, touched: set[str], arrived: set[str]) -> tuple[Refolded, set[str]]:
    """Refold what was touched, and go on while that lets parked events in. Returns the ids let in as well."""
    done, let_in = Refolded(), set[str]()
    awaited = arrived
    while touched or awaited:
        now = refold(farm_id, touched)
        done.add(now)
        _set_aside(farm_id, now.vanished)
        entered = _let_in(farm_id, awaited | now.appeared)
        let_in |= {event_id for event_id, _, _ in entered}
        touched = {subject for _, subject, form in entered if form in SHAPES_OUTLOOK}
        awaited = set()
    return done, let_in


def _set_aside(farm_id: str, vanished: set[str]) -> None:
    if vanished:
        rows = Event.objects.filter(farm_id=farm_id, subject__in=vanished, kind__in=NEED_A_SUBJECT, fold_status=OK)
        rows.update(fold_status=PARKED, waits_for=F("subject"))


def _let_in(farm_id: str, awaited: set[str]) -> list[tuple[str, str, str]]:
    if not awaited:
        return []
    parked = Event.objects.filter(farm_id=farm_id, fold_status=PARKED).exclude(waits_for="")
    if not parked.exists():
        return []
    rows = parked.filter(waits_for__in=awaited).order_by("seq")
    return take_up(farm_id, list(rows.values("id", "seq", "raw", "eff")))


def take_up(farm_id: str, rows: Sequence[Mapping[str, Any]]) -> list[tuple[str, str, str]]:
    """Judge parked rows again; those that can be folded now are marked so. [(id, subject, form)]"""
    if not rows:
        return []
    events = [replay(row["raw"], row["eff"]) for row in rows]
    known = Log(farm_id)
    targets, subjects = names(events)
    known.load_events(targets)
    known.load_subjects(subjects)
    by_form: dict[str, list[int]] = {}
    entered = []
    for row, event in zip(rows, events, strict=True):
        where = place(event, known)
        if _fits(where, row["id"]):
            by_form.setdefault(where.form, []).append(row["seq"])
            entered.append((str(row["id"]), str(event["subject"]), where.form))
    for form, seqs in by_form.items():
        found = Event.objects.filter(farm_id=farm_id, seq__in=seqs)
        found.update(fold_status=OK, waits_for="", form=form)
    return entered


def _fits(where: Place, event_id: str) -> bool:
    if where.problem:
        log.warning("A parked entry does not fit what it waited for: %s %s", event_id, where.problem.why)
    return where.status == OK and where.problem is None
