"""Entries whose right hangs on what stands before them: a helper may lower a ration and lengthen a hold.

They are judged in the order the fold has, from everything the log holds about their subject, and again whenever that
changes: so the outcome is the same whatever came first. One that fails is set aside, and counts when it fits again.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from herd.models import Event, Farm, SetAside
from herd.models.event import OK, PARKED, REFUSED
from herd.models.farm import HELPER
from herd.state import chains
from herd.state.doe_state import freeze_of
from herd.state.kinds import CHAINS
from herd.state.order import Event as Fact
from herd.state.order import by_stamp, by_time, text
from herd.state.payloads import Problem
from herd.state.rations import amount_on, clean_steps, write_ration

from .clock import day_of
from .roles import MAY, NO_END, NO_MORE, NO_RAISE, OWNERS_ORDER, STAYS_HELD, UNPLACED, ends_hold
from .wire import replay

IN_ORDER = (UNPLACED, NO_RAISE, NO_END)
JUDGED = tuple(kind for kind, may in MAY[HELPER].items() if may.record in IN_ORDER)


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of the log as it counts, and as what it came."""

    event: Fact
    role: str
    received_on: date


@dataclass(slots=True)
class Standing:
    """Entries set aside just now, and entries that count again."""

    refused: dict[str, Problem] = field(default_factory=dict)
    admitted: set[str] = field(default_factory=set)
    subjects: set[str] = field(default_factory=set)


def rejudge(farm: Farm, subjects: set[str]) -> Standing:
    """Judge again what helpers recorded about these subjects. The farm row must be locked."""
    rows = Event.objects.filter(farm_id=farm.id, subject__in=subjects, form__in=JUDGED)
    if not subjects or not rows.filter(role=HELPER).exists():
        return Standing()
    found = list(rows.exclude(fold_status=PARKED).values())
    entries = [
        Entry(replay(row["raw"], row["eff"]), row["role"], day_of(row["received_ms"], farm.zone))
        for row in found
        if row["fold_status"] == OK or row["kind"] not in CHAINS
    ]
    wrong = verdicts(entries)
    judged = {entry.event["id"] for entry in entries}
    changed = Standing()
    for row in found:
        if row["id"] in judged and (row["id"] in wrong) != (row["fold_status"] == REFUSED):
            changed.subjects.add(row["subject"])
            if row["id"] in wrong:
                changed.refused[row["id"]] = wrong[row["id"]]
            else:
                changed.admitted.add(row["id"])
    state(farm, changed.refused, changed.admitted)
    return changed


def state(farm: Farm, refused: dict[str, Problem], admitted: set[str]) -> None:
    """Write it into the log, and down for the phones. The farm row must be locked; its caller saves the counter."""
    if not refused and not admitted:
        return
    farm.outlook_rev += 1
    rows = Event.objects.filter(farm_id=farm.id)
    rows.filter(id__in=refused).update(fold_status=REFUSED, waits_for="")
    rows.filter(id__in=admitted).update(fold_status=OK)
    said = []
    for seq, event_id in rows.filter(id__in=refused.keys() | admitted).values_list("seq", "id"):
        problem = refused.get(event_id, Problem("", "", ""))
        said.append(SetAside(farm=farm, seq=seq, rev=farm.outlook_rev, code=problem.code, why=problem.why))
    keys, fields = ["farm", "seq"], ["rev", "code", "why"]
    SetAside.objects.bulk_create(said, update_conflicts=True, unique_fields=keys, update_fields=fields)


def verdicts(entries: Iterable[Entry]) -> dict[str, Problem]:
    """Those of helpers that may not count, by id. A pure function of what the log holds, in any order."""
    by_id = {entry.event["id"]: entry for entry in entries}
    live, _, _ = chains.settle([entry.event for entry in by_id.values()])
    live.sort(key=by_stamp)
    bound = {event["id"] for event in live if _bound(event, by_id)}
    return _rations(live, bound) | _records(live, bound) | _freezes(sorted(live, key=by_time), bound, by_id)


def _bound(event: Fact, by_id: dict[str, Entry]) -> bool:
    """A helper's own words. What somebody else has corrected is somebody else's."""
    words = by_id.get(event.get("fixed_by", ""), by_id[event["id"]])
    return words.role == HELPER


def _rations(stamped: list[Fact], bound: set[str]) -> dict[str, Problem]:
    held: dict[str, Any] = {}
    wrong = {}
    for event in (event for event in stamped if event["kind"] == "ration"):
        data = event["data"]
        before = held.get(f"{event['subject']}|{text(data, 'slot')}|{text(data, 'feed')}", {"steps": []})
        if event["id"] in bound and _raises(before["steps"], clean_steps(data["steps"])):
            wrong[event["id"]] = NO_MORE
        else:
            write_ration(held, event, {})
    return wrong


def _raises(before: list[list[Any]], steps: list[list[Any]]) -> bool:
    """More than stands on any date from the first one on."""
    first = steps[0][0]
    dates = {on for on, _ in (*steps, *before) if on >= first}
    return any(amount_on(steps, on) > amount_on(before, on) for on in dates)


def _records(stamped: list[Fact], bound: set[str]) -> dict[str, Problem]:
    """Whoever adds a doe or a pen gives it the last place in its row; one that stands is moved by who plans."""
    there = set()
    wrong = {}
    for event in (event for event in stamped if MAY[HELPER][event["kind"]].record == UNPLACED):
        if event["id"] in bound and "order" in event["data"]["f"] and (event["subject"], event["kind"]) in there:
            wrong[event["id"]] = OWNERS_ORDER
        else:
            there.add((event["subject"], event["kind"]))
    return wrong


def _freezes(timed: list[Fact], bound: set[str], by_id: dict[str, Entry]) -> dict[str, Problem]:
    held: dict[str, dict[str, Any]] = {}
    wrong = {}
    for event in (event for event in timed if event["kind"] == "freeze"):
        before = held.get(event["subject"])
        late = ends_hold(event, by_id[event["id"]].received_on)
        if event["id"] in bound and (late or (before is not None and _loosens(event, before))):
            wrong[event["id"]] = STAYS_HELD
        else:
            held[event["subject"]] = freeze_of(event, before)
    return wrong


def _loosens(event: Fact, before: dict[str, Any]) -> bool:
    """Ends sooner than the hold that stands, or gives grain again while that one keeps it out."""
    data = event["data"]
    shorter = bool(data["until_on"] < before["until"])
    return shorter or (before["grain_out"] and before["until"] >= event["on"] and not data["grain_out"])
