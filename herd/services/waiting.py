"""Parked events: taken up when what they wait for appears, set aside again when it goes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from django.db.models import F

from herd.models import Event, Farm
from herd.models.event import OK, PARKED
from herd.state.kinds import CHAINS, KINDS, SHAPES_OUTLOOK
from herd.state.payloads import Problem

from .clock import day_of
from .further import Seen
from .judge import Log, Place, names, place
from .refold import Refolded, refold
from .roles import not_allowed
from .standing import TELLING, Since, pens_of, rejudge, state
from .wire import replay

NEED_A_SUBJECT = tuple(kind.name for kind in KINDS.values() if kind.about)


@dataclass(slots=True)
class TakenUp:
    """Parked rows as they were judged again: [(id, subject, form)] of those that count now, and those that never do."""

    entered: list[tuple[str, str, str]] = field(default_factory=list)
    refused: dict[str, Problem] = field(default_factory=dict)

    def about(self, forms: Sequence[str]) -> set[str]:
        return {subject for _, subject, form in self.entered if form in forms}

    @property
    def ids(self) -> set[str]:
        return {event_id for event_id, _, _ in self.entered}


@dataclass(slots=True)
class Settled:
    done: Refolded = field(default_factory=Refolded)
    let_in: set[str] = field(default_factory=set)
    refused: dict[str, Problem] = field(default_factory=dict)


def settle(
    farm: Farm,
    touched: set[str],
    arrived: set[str],
    judged: set[str],
    seen: Seen | None = None,
    since: Since | None = None,
) -> Settled:
    """Judge again and refold what was touched, and go on while that lets parked events in.

    The farm row must be locked; its caller saves the counter. `judged`: subjects whose order of entries has changed,
    by nothing from before `since`. `seen`: what of the arrived is merely seen, by subject.
    """
    settled = Settled()
    while touched or arrived or judged:
        standing = rejudge(farm, judged, since)
        settled.refused |= standing.refused
        now = refold(farm.id, touched | standing.subjects, seen)
        seen = since = None
        settled.done.add(now)
        left = _set_aside(farm.id, now.vanished)
        taken = _let_in(farm, arrived | now.appeared)
        settled.let_in |= taken.ids
        settled.refused |= taken.refused
        touched, judged, arrived = taken.about(SHAPES_OUTLOOK), taken.about(TELLING) | left, set()
    return settled


def _set_aside(farm_id: str, vanished: set[str]) -> set[str]:
    """Whose entries are to be judged again: of the pens they were in, where nobody is late by them any more."""
    if not vanished:
        return set()
    rows = Event.objects.filter(farm_id=farm_id, subject__in=vanished, kind__in=NEED_A_SUBJECT, fold_status=OK)
    pens = pens_of(rows)
    rows.update(fold_status=PARKED, waits_for=F("subject"))
    return pens


def _let_in(farm: Farm, awaited: set[str]) -> TakenUp:
    if not awaited:
        return TakenUp()
    parked = Event.objects.filter(farm_id=farm.id, fold_status=PARKED).exclude(waits_for="")
    if not parked.exists():
        return TakenUp()
    return take_up(farm, list(parked.filter(waits_for__in=awaited).order_by("seq").values(*ROW)))


ROW = ("id", "seq", "raw", "eff", "kind", "role", "received_ms", "waits_for")


def take_up(farm: Farm, rows: Sequence[Mapping[str, Any]]) -> TakenUp:
    """Judge parked rows again, as on the day they came: who comes early gets what who comes in time would get."""
    taken = TakenUp()
    if not rows:
        return taken
    events = [replay(row["raw"], row["eff"]) for row in rows]
    known = Log(farm.id)
    targets, subjects = names(events)
    known.load_events(targets)
    known.load_subjects(subjects)
    for row, event in sorted(zip(rows, events, strict=True), key=lambda pair: pair[0]["kind"] in CHAINS):
        where = place(event, known)
        problem = where.problem or _not_allowed(farm, row, event, where)
        if problem:
            taken.refused[row["id"]] = problem
        elif where.status == OK:
            taken.entered.append((row["id"], event["subject"], where.form))
            known.enter(row["id"], where.form)
        elif where.waits_for != row["waits_for"]:
            Event.objects.filter(farm_id=farm.id, seq=row["seq"]).update(waits_for=where.waits_for)
    for form in {form for _, _, form in taken.entered}:
        ids = [event_id for event_id, _, own in taken.entered if own == form]
        Event.objects.filter(farm_id=farm.id, id__in=ids).update(fold_status=OK, waits_for="", form=form)
    state(farm, taken.refused, set())
    return taken


def _not_allowed(farm: Farm, row: Mapping[str, Any], event: dict[str, Any], where: Place) -> Problem | None:
    waits = where.status == PARKED and event["kind"] in CHAINS
    return None if waits else not_allowed(row["role"], event, where.chain, day_of(row["received_ms"], farm.zone))
