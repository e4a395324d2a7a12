"""Entries whose right hangs on what stands before them: a helper may lower a ration, not late, and lengthen a hold,
of grain as of milk; and say of a feed what it is while nobody has.

They are judged in the order the fold has, from everything the log holds about their subject, and again whenever that
changes: so the outcome is the same whatever came first. One that fails is refused, and counts when it fits again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from django.db.models import Q, QuerySet

from herd.models import Event, Farm, Folded, Ruling
from herd.models.event import OK, PARKED, REFUSED
from herd.models.farm import HELPER
from herd.state import chains
from herd.state.doe_state import freeze_of
from herd.state.kinds import CHAINS
from herd.state.order import Event as Fact
from herd.state.order import by_stamp, by_time, content, text
from herd.state.payloads import Problem
from herd.state.rations import amount_on, clean_steps, write_ration
from herd.state.readable import readable

from .clock import day_of
from .late_cut import SAYS_WHEN, cuts, late_from
from .roles import NO_LATE_CUT, NO_MORE, NO_SOONER, NOT_HERS, STAYS_HELD, ends_hold, kept_fields, may
from .wire import as_object, replay


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of the log as it counts, and as what it came."""

    event: Fact
    role: str
    received_on: date


@dataclass(slots=True)
class Standing:
    """Entries refused just now, and the subjects of these and of those that count again."""

    refused: dict[str, Problem] = field(default_factory=dict)
    subjects: set[str] = field(default_factory=set)


@dataclass(frozen=True, slots=True)
class Since:
    """Where the order of entries begins to be another: what stands before it in both orders was judged as it is."""

    hlc: str
    happened_ms: int

    @classmethod
    def of(cls, rows: Iterable[Any]) -> Since | None:
        """A link changes what is judged by its own stamp, not by when it was put down."""
        held = list(rows)
        times = [row.happened_ms for row in held if row.kind not in CHAINS]
        return cls(min(row.hlc for row in held), min(times, default=2**53)) if held else None


def rejudge(farm: Farm, subjects: set[str], since: Since | None = None) -> Standing:
    """Judge again what helpers recorded about these subjects. The farm row must be locked."""
    if not subjects:
        return Standing()
    placed = Event.objects.filter(farm_id=farm.id).exclude(fold_status=PARKED)
    rows = placed.filter(
        subject__in=subjects | pens_of(placed.filter(subject__in=subjects)),
        kind__in=(*JUDGED, *CHAINS),
        form__in=JUDGED,
    )
    helped = rows.filter(role=HELPER)
    if since:
        helped = helped.filter(Q(hlc__gte=since.hlc) | Q(happened_ms__gte=since.happened_ms))
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
    a treatment hang on what stands before them as well, and are judged whole each time."""
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
    planning = {entry.event["id"] for entry in held if entry.role != HELPER}
    when = list(states)
    links = [entry.event for entry in held if entry.event["kind"] in CHAINS]
    wrong: dict[str, Problem] = {}
    for kinds, order in ORDERS.items():
        facts = sorted((one for one in held if one.event["kind"] in kinds), key=lambda one: order(one.event))
        first = next((at for at, one in enumerate(facts) if asked is None or one.event["id"] in asked), len(facts))
        before_it = {one.event["id"] for one in facts[:first]}
        wrong |= {key: problem for key, problem in (stood or {}).items() if key in before_it}
        for place, entry in enumerate(facts[first:], first):
            if entry.role == HELPER:
                said = [one.event for one in facts[:place] if one.event["id"] not in wrong]
                known = [link for link in links if by_stamp(link) < by_stamp(entry.event)]
                told = [one for one in when if one["kind"] not in CHAINS or by_stamp(one) < by_stamp(entry.event)]
                before = Before(chains.settle([*said, *known])[0], planning, chains.settle(told)[0], said)
                problem = JUDGES[entry.event["kind"]](entry, before)
                wrong |= {entry.event["id"]: problem} if problem else {}
    return wrong | _sooner(held)


@dataclass(frozen=True, slots=True)
class Before:
    """What stands before an entry, which of it is of those who plan, and all that says which does are late. `said`:
    what was recorded before it, taken back or not."""

    facts: list[Fact]
    planning: set[str]
    states: list[Fact]
    said: list[Fact]


def _ration(entry: Entry, before: Before) -> Problem | None:
    """No more than stands, on any date from the first one on; and late not much less than who plans has set."""
    data, held = entry.event["data"], dict[str, Any]()
    rations = [event for event in before.facts if event["kind"] == "ration"]
    for event in rations:
        write_ration(held, event, {})
    key = f"{entry.event['subject']}|{text(data, 'slot')}|{text(data, 'feed')}"
    stands, steps = held.get(key, {"steps": []})["steps"], clean_steps(data["steps"])
    dates = {on for on, _ in (*steps, *stands) if on >= steps[0][0]}
    if any(amount_on(steps, on) > amount_on(stands, on) for on in dates):
        return NO_MORE
    late_on = late_from(entry.event["subject"], entry.event, before.states)
    planned = [event for event in rations if event["id"] in before.planning]
    return NO_LATE_CUT if late_on and cuts(entry.event, planned, rations, late_on) else None


def _record(entry: Entry, before: Before) -> Problem | None:
    """Whoever adds a doe gives her the last place in the row, and a feed what is in it; from then on who plans does. To
    take back one's own and begin anew is no way around."""
    same = (entry.event["subject"], entry.event["kind"])
    there = any((event["subject"], event["kind"]) == same for event in before.said)
    return kept_fields(entry.role, entry.event["kind"], entry.event["data"]["f"], {}) if there else None


def _freeze(entry: Entry, before: Before) -> Problem | None:
    """No sooner an end than that of the hold that stands, and no grain while that one keeps it out."""
    hold, held = entry.event, None
    for event in (event for event in before.facts if event["subject"] == hold["subject"]):
        held = freeze_of(event, held)
    data = hold["data"]
    shorter = held is not None and data["until_on"] < held["until"]
    given = held is not None and held["grain_out"] and held["until"] >= hold["on"] and not data["grain_out"]
    return STAYS_HELD if shorter or given or ends_hold(hold, entry.received_on) else None


def _sooner(held: Iterable[Entry]) -> dict[str, Problem]:
    """Links of helpers that would end a hold on milk or meat sooner than it stands, or touch somebody else's.

    Her own treatment she may take back whole, as long as nobody else has put it right since.
    """
    wrong: dict[str, Problem] = {}
    about = [entry for entry in held if entry.event["kind"] in (*CHAINS, *HELD_BY)]
    authors = {entry.event["id"]: entry.event["author"] for entry in about}
    facts = [entry.event for entry in about if entry.event["kind"] in HELD_BY]
    links = sorted((entry for entry in about if entry.event["kind"] in CHAINS), key=lambda one: by_stamp(one.event))
    counting: list[Fact] = []
    for entry in links:
        problem = _ends_sooner(entry, facts, counting, authors) if entry.role == HELPER else None
        if problem:
            wrong[entry.event["id"]] = problem
        else:
            counting.append(entry.event)
    return wrong


def _ends_sooner(entry: Entry, facts: list[Fact], links: list[Fact], authors: dict[str, str]) -> Problem | None:
    before, after = (
        {event["id"]: event for event in chains.settle([*facts, *said])[0]} for said in (links, [*links, entry.event])
    )
    for event_id, stood in before.items():
        stands = after.get(event_id)
        if stands == stood:
            continue
        touched = {stood["author"], authors.get(stood.get("fixed_by", ""), stood["author"])}
        if touched != {entry.event["author"]}:
            return NOT_HERS
        days = may(entry.role, stood["kind"]).never_sooner
        if stands and any(text(content(stands), name) < text(content(stood), name) for name in days):
            return NO_SOONER
    return None


def _treatment(entry: Entry, before: Before) -> None:
    """Anybody records that something was given, with its hold: only what is said of it later can end one."""


HELD_BY = LINKS_JUDGED = ("treatment",)
PLACED = ("doe", "pen", "feed", "lot", "shelf")
ORDERS: dict[tuple[str, ...], Callable[[Fact], Any]] = {(*PLACED, "ration"): by_stamp, ("freeze",): by_time}
JUDGES: dict[str, Callable[[Entry, Before], Problem | None]] = {
    **dict.fromkeys(PLACED, _record),
    "ration": _ration,
    "freeze": _freeze,
    "treatment": _treatment,
}
# Stands for the reason of one refused before: it is not said anew.
STOOD = Problem("", "", "")
JUDGED = tuple(JUDGES)
# Entries that call for judging again.
TELLING = (*JUDGED, *SAYS_WHEN)
