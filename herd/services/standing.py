"""Entries whose right hangs on what stands before them: a helper may lower a ration, not late, and lengthen a hold,
of grain as of milk; and say what is in a feed that she makes. On the dates of a sitter's pack owners alone change
what is planned.

They are judged in the order the fold has, from everything the log holds about their subject, and again whenever that
changes: so the outcome is the same whatever came first. One that fails is refused, and counts when it fits again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.db.models import Q, QuerySet

from herd.models import Event, Farm, Folded, Ruling
from herd.models.event import OK, PARKED, REFUSED
from herd.models.farm import FAMILY, HELPER
from herd.state import chains
from herd.state.doe_state import freeze_of
from herd.state.kinds import CHAINS
from herd.state.order import Event as Fact
from herd.state.order import by_stamp, by_time, content, text
from herd.state.payloads import Problem
from herd.state.rations import amount_on, clean_steps, telling, write_ration
from herd.state.readable import readable

from .clock import day_of
from .entry import Entry
from .late_cut import SAYS_WHEN, cuts, late_from
from .made import PLACED, makes, record_of
from .roles import AS_IT_IS, NO_LATE_CUT, NO_MORE, NOT_HERS, STAYS_HELD, ends_hold, kept_fields, may
from .sooner import HELD_BY, sooner
from .stands import amounts_stand, bears_on, links_of_rations
from .wire import as_object, replay


@dataclass(slots=True)
class Standing:
    """Entries refused just now, and the subjects of these and of those that count again."""

    refused: dict[str, Problem] = field(default_factory=dict)
    subjects: set[str] = field(default_factory=set)


@dataclass(frozen=True, slots=True)
class Since:
    """Where the order of entries begins to be another: what stands before it in both orders was judged as it is. All
    about a record is judged anew where one is written: who made it may be known only now."""

    hlc: str
    happened_ms: int
    records: bool

    @classmethod
    def of(cls, rows: Iterable[Any]) -> Since | None:
        """A link changes what is judged by its own stamp, not by when it was put down."""
        held = list(rows)
        times = [row.happened_ms for row in held if row.kind not in CHAINS]
        records = any(row.kind in PLACED for row in held)
        return cls(min(row.hlc for row in held), min(times, default=2**53), records) if held else None


def rejudge(farm: Farm, subjects: set[str], since: Since | None = None) -> Standing:
    """Judge again what helpers recorded about these subjects, and what others planned for the dates of a pack. The farm
    row must be locked."""
    if not subjects:
        return Standing()
    placed = Event.objects.filter(farm_id=farm.id).exclude(fold_status=PARKED)
    packs = set(placed.filter(kind="pack").values_list("subject", flat=True))
    if packs & subjects:
        subjects = subjects | _planned_by_others(placed, since)
    rows = placed.filter(
        subject__in=subjects | packs | pens_of(placed.filter(subject__in=subjects)),
        kind__in=(*JUDGED, *CHAINS),
        form__in=JUDGED,
    )
    helped = rows.filter(Q(role=HELPER) | Q(role=FAMILY, form="ration")) if packs else rows.filter(role=HELPER)
    if since:
        records = Q(kind__in=PLACED if since.records else ())
        helped = helped.filter(records | Q(hlc__gte=since.hlc) | Q(happened_ms__gte=since.happened_ms))
    open_ids = set(helped.values_list("id", flat=True))
    if not open_ids:
        return Standing()
    found: list[dict[str, Any]] = [dict(row) for row in rows.values()]
    entries = [entry for row in found if (entry := _entry(farm, row))]
    stood = {row["id"]: STOOD for row in found if row["fold_status"] == REFUSED}
    states = [one.event for row in _states(placed, found) if (one := _entry(farm, row))]
    wrong = verdicts(entries, states, open_ids, stood)
    judged = {entry.event["id"] for entry in entries}
    moved = [row for row in found if row["id"] in judged and (row["id"] in wrong) != (row["fold_status"] == REFUSED)]
    refused = {row["id"]: wrong[row["id"]] for row in moved if row["id"] in wrong}
    admitted = {row["id"] for row in moved} - refused.keys()
    state(farm, refused, admitted)
    return Standing(refused, {row["subject"] for row in moved})


def _planned_by_others(placed: QuerySet[Event], since: Since | None) -> set[str]:
    """Of whom somebody who is no owner planned something after a pack was made, changed or taken away."""
    rations = placed.filter(kind__in=("ration", *CHAINS), form="ration", role__in=(HELPER, FAMILY))
    if since:
        rations = rations.filter(hlc__gte=since.hlc)
    return set(rations.values_list("subject", flat=True))


def pens_of(rows: QuerySet[Event]) -> set[str]:
    """Pens that does were moved to by these: what is fed there hangs on who is late in it."""
    moves = rows.filter(kind="moved").values_list("raw", flat=True)
    return {text(content(as_object(raw.encode())), "pen") for raw in moves}


def _states(placed: QuerySet[Event], found: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What says who is late, where a helper's ration is among them: of all does where it is for a pen."""
    fed = {row["subject"] for row in found if row["form"] == "ration" and row["role"] == HELPER}
    if not fed:
        return []
    said = placed.filter(kind__in=(*SAYS_WHEN, *CHAINS), form__in=SAYS_WHEN, fold_status=OK)
    does = Folded.objects.filter(farm_id=found[0]["farm_id"], subject__in=fed, kind="doe")
    alone = fed <= set(does.values_list("subject", flat=True))
    return [dict(row) for row in (said.filter(subject__in=fed) if alone else said).values()]


def _entry(farm: Farm, row: Mapping[str, Any]) -> Entry | None:
    """None for what nobody can read, and for refused links: what they may is said once, when they are placed. Those of
    a treatment or a ration hang on what stands before them as well, and are judged whole each time."""
    event = replay(row["raw"], row["eff"])
    aside = row["fold_status"] == REFUSED and row["kind"] in CHAINS and row["form"] not in LINKS_JUDGED
    return None if aside or not readable(event) else Entry(event, row["role"], day_of(row["received_ms"], farm.zone))


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
        said.append(Ruling(farm=farm, seq=seq, rev=farm.outlook_rev, code=problem.code, why=problem.why))
    keys, fields = ["farm", "seq"], ["rev", "code", "why"]
    Ruling.objects.bulk_create(said, update_conflicts=True, unique_fields=keys, update_fields=fields)


def verdicts(
    entries: Iterable[Entry],
    states: Iterable[Fact] = (),
    asked: set[str] | None = None,
    stood: Mapping[str, Problem] | None = None,
) -> dict[str, Problem]:
    """Those of helpers that may not count, by id. A pure function of what the log holds, in any order.

    Each is judged by what stands before it in the fold's order. What was taken back only after its author said it
    changes nothing for it: no refused entry comes to life by that. `states`: what says which does are late. With
    `asked`, all before the first of these in an order stay as they `stood`.
    """
    held = list(entries)
    course = Course(held, list(states))
    wrong: dict[str, Problem] = {}
    for kinds, order in ORDERS.items():
        ordered = [one for one in held if one.event["kind"] in kinds or ("ration" in kinds and one.id in course.undone)]
        facts = sorted(ordered, key=lambda one: order(one.event))
        first = next((at for at, one in enumerate(facts) if asked is None or one.id in asked), len(facts))
        before_it = {one.id for one in facts[:first]}
        wrong |= {key: problem for key, problem in (stood or {}).items() if key in before_it}
        for place, entry in enumerate(facts[first:], first):
            if course.is_judged(entry) and (problem := course.problem(entry, facts[:place], wrong)):
                wrong[entry.id] = problem
    return wrong | sooner(held)


class Course:
    """All that was recorded about some subjects, from which each entry is judged by what stands before it."""

    def __init__(self, held: list[Entry], when: list[Fact]) -> None:
        self.planning = {one.id for one in held if one.role != HELPER}
        self.when = when
        self.links = [one.event for one in held if one.event["kind"] in CHAINS]
        self.made = {one.id: record_of(one.event) for one in held if makes(one.event)}
        self.packs = any(one.event["kind"] == "pack" for one in held)
        self.undone = links_of_rations(held)

    def is_judged(self, entry: Entry) -> bool:
        plans = entry.event["kind"] == "ration" or entry.id in self.undone
        return entry.role == HELPER or (entry.role == FAMILY and plans and self.packs)

    def problem(self, entry: Entry, earlier: list[Entry], wrong: Mapping[str, Problem]) -> Problem | None:
        event = entry.event
        said = [one.event for one in earlier if one.id not in wrong and bears_on(one.event, event)]
        known = [one for one in self.links if by_stamp(one) < by_stamp(event) and one["id"] not in wrong]
        if event["kind"] == "ration" or entry.id in self.undone:
            problem = self._not_hers(entry) or (amounts_stand(event, said, known) if self.packs else None)
            if problem or entry.role != HELPER:
                return problem
        if event["kind"] in CHAINS:
            return None
        told = [one for one in self.when if one["kind"] not in CHAINS or by_stamp(one) < by_stamp(event)]
        made = {made for made, record in self.made.items() if record == record_of(event)}
        before = Before(chains.settle([*said, *known])[0], self.planning, chains.settle(told)[0], said, made)
        return JUDGES[event["kind"]](entry, before)

    def _not_hers(self, entry: Entry) -> Problem | None:
        """Of a link, what the table says, once more: it is judged whole each time."""
        if entry.id not in self.undone:
            return None
        target, root = self.undone[entry.id]
        how = may(entry.role, "ration")
        own = target.event["author"] == root.event["author"] == entry.event["author"]
        if entry.event["kind"] in (how.own if own else how.others):
            return None
        return AS_IT_IS if own else NOT_HERS


@dataclass(frozen=True, slots=True)
class Before:
    """What stands before an entry, which of it is of those who plan, and all that says which does are late. `said`:
    what was recorded before it, taken back or not. `made`: what made the record it is about, whatever the stamps say.
    """

    facts: list[Fact]
    planning: set[str]
    states: list[Fact]
    said: list[Fact]
    made: set[str]


def _ration(entry: Entry, before: Before) -> Problem | None:
    """No more than stands, on any date from the first one on; and late not much less than who plans has set."""
    data, held = entry.event["data"], dict[str, Any]()
    rations = [event for event in before.facts if event["kind"] == "ration"]
    steps = clean_steps(data["steps"])
    for event in telling(rations, steps[0][0]):
        write_ration(held, event, {})
    key = f"{entry.event['subject']}|{text(data, 'slot')}|{text(data, 'feed')}"
    stands = held.get(key, {"steps": []})["steps"]
    dates = {on for on, _ in (*steps, *stands) if on >= steps[0][0]}
    if any(amount_on(steps, on) > amount_on(stands, on) for on in dates):
        return NO_MORE
    late_on = late_from(entry.event["subject"], entry.event, before.states)
    planned = [event for event in rations if event["id"] in before.planning]
    return NO_LATE_CUT if late_on and cuts(entry.event, planned, rations, late_on) else None


def _record(entry: Entry, before: Before) -> Problem | None:
    """Whoever makes a record gives a doe the last place in the row, and says what is in a feed, in the entry that makes
    it, the first by stamp; of one that somebody who plans has made, and from then on, who plans does. To take back
    one's own and begin anew is no way around, nor is an early stamp."""
    there = any(record_of(event) == record_of(entry.event) for event in before.said)
    theirs = before.made & before.planning or (before.made and entry.id not in before.made)
    return kept_fields(entry.role, entry.event["kind"], entry.event["data"]["f"], {}) if there or theirs else None


def _freeze(entry: Entry, before: Before) -> Problem | None:
    """No sooner an end than that of the hold that stands, and no grain while that one keeps it out."""
    hold, held = entry.event, None
    for event in (event for event in before.facts if event["subject"] == hold["subject"]):
        held = freeze_of(event, held)
    data = hold["data"]
    shorter = held is not None and data["until_on"] < held["until"]
    given = held is not None and held["grain_out"] and held["until"] >= hold["on"] and not data["grain_out"]
    return STAYS_HELD if shorter or given or ends_hold(hold, entry.received_on) else None


def _treatment(entry: Entry, before: Before) -> None:
    """Anybody records that something was given, with its hold: only what is said of it later can end one."""


def _pack(entry: Entry, before: Before) -> None:
    """The table lets nobody make one but those who plan."""


LINKS_JUDGED = (*HELD_BY, "ration")
ORDERS: dict[tuple[str, ...], Callable[[Fact], Any]] = {
    PLACED: by_stamp,
    ("pack", "ration"): by_stamp,
    ("freeze",): by_time,
}
JUDGES: dict[str, Callable[[Entry, Before], Problem | None]] = {
    **dict.fromkeys(PLACED, _record),
    "pack": _pack,
    "ration": _ration,
    "freeze": _freeze,
    "treatment": _treatment,
}
# Stands for the reason of one refused before: it is not said anew.
STOOD = Problem("", "", "")
JUDGED = tuple(JUDGES)
# Entries that call for judging again.
TELLING = (*JUDGED, *SAYS_WHEN)
