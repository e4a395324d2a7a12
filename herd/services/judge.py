"""Where an event that is right in itself belongs, given what the farm's log already holds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any

from herd.models import Event as Row
from herd.models import Folded
from herd.models.event import OK, PARKED
from herd.outlook.rules import RULES
from herd.state.kinds import CHAINS, KINDS, RECORDS, known
from herd.state.order import Event, content, mapping, text
from herd.state.payloads import Problem, correction_problem

from .wire import as_object

# Nobody takes back and puts back one thing so often; and each link costs a look into the log.
LONGEST_CHAIN = 50


@dataclass(frozen=True, slots=True)
class Seen:
    """What must be known of an event in the log to judge one that repeats or names it. `of`: what a link names;
    `f`: the fields of a record."""

    kind: str
    sha256: str
    seq: int
    eff: str
    form: str
    subject: str
    author: str
    role: str
    fold_status: str
    of: str
    f: dict[str, Any]


@dataclass(slots=True)
class Log:
    """The part of a farm's log that one batch touches."""

    farm_id: str
    events: dict[str, Seen] = field(default_factory=dict)
    subjects: set[tuple[str, str]] = field(default_factory=set)

    def load_events(self, ids: set[str]) -> None:
        """These, and what the links among them lead to."""
        for _ in range(LONGEST_CHAIN):
            ids = ids - self.events.keys()
            if not ids:
                return
            rows = Row.objects.filter(farm_id=self.farm_id, id__in=ids).values(*SEEN)
            ids = set()
            for row in rows:
                event_id, version, raw = row.pop("id"), row.pop("v"), row.pop("raw")
                of = target_of(row["kind"], version, raw)
                self.events[event_id] = Seen(**row, of=of, f=fields_of(row["kind"], raw))
                ids |= {of} - {""}

    def enter(self, event_id: str, form: str) -> None:
        """An unknown kind that can be read by now: links may lead to it."""
        if seen := self.events.get(event_id):
            self.events[event_id] = replace(seen, form=form)

    def load_subjects(self, subjects: set[str]) -> None:
        if subjects:
            found = Folded.objects.filter(farm_id=self.farm_id, subject__in=subjects)
            self.subjects.update(found.values_list("subject", "kind"))


SEEN = ("id", "kind", "v", "raw", "sha256", "seq", "eff", "form", "subject", "author", "role", "fold_status")


def target_of(kind: str, version: int, raw: str) -> str:
    return text(content(as_object(raw.encode())), "of") if kind in CHAINS and known(kind, version) else ""


def fields_of(kind: str, raw: str) -> dict[str, Any]:
    return mapping(content(as_object(raw.encode())), "f") if kind in RECORDS else {}


@dataclass(frozen=True, slots=True)
class Place:
    """`form` is the kind the content is written in; "" while this build cannot tell.

    `chain`: for a link, the entries it leads to, from the one it names to the first one recorded.
    """

    status: str
    form: str
    waits_for: str = ""
    problem: Problem | None = None
    chain: tuple[Seen, ...] = ()


def names(events: Iterable[Event]) -> tuple[set[str], set[str]]:
    """The event ids and the subjects that have to be looked up before these events can be judged."""
    readable = [event for event in events if known(event["kind"], event["v"])]
    targets = {event["data"]["of"] for event in readable if event["kind"] in CHAINS}
    return targets, {event["subject"] for event in readable if KINDS[event["kind"]].about}


def place(event: Event, log: Log) -> Place:
    kind = event["kind"]
    if not known(kind, event["v"]):
        return Place(PARKED, "")
    if kind in CHAINS:
        return _place_link(event, log)
    if kind == "rules":
        return Place(OK, kind, problem=_rules_problem(event, log.farm_id))
    about = KINDS[kind].about
    if about and not any((event["subject"], what) in log.subjects for what in about):
        return Place(PARKED, kind, event["subject"])
    return Place(OK, kind)


def _place_link(event: Event, log: Log) -> Place:
    """Nothing is said of a link before what it comes down to is known: who may put it there hangs on that."""
    chain: list[Seen] = []
    met, at = {event["id"]}, event["data"]["of"]
    while at and (seen := log.events.get(at)) and at not in met and len(chain) < LONGEST_CHAIN:
        chain.append(seen)
        met.add(at)
        at = seen.of
    if problem := _chain_problem(event, chain, at in met):
        return Place(OK, "", problem=problem)
    form = chain[-1].form if chain and not at else ""
    if not form:
        return Place(PARKED, "", at)
    wrong = _correction(event, form, log.farm_id) if event["kind"] == "correct" else None
    return Place(OK, form, problem=wrong, chain=tuple(chain))


def _chain_problem(event: Event, chain: list[Seen], closed: bool) -> Problem | None:
    if closed:
        return Problem("bad_field", "of", "An entry cannot take itself back, not even by way of others.")
    if len(chain) == LONGEST_CHAIN:
        return Problem("bad_field", "of", f"That was taken back {LONGEST_CHAIN} times: record it again.")
    if any(seen.subject != event["subject"] for seen in chain):
        return Problem("bad_field", "subject", "That entry is about somebody else: try again.")
    if event["kind"] == "correct" and any(seen.kind == "void" for seen in chain):
        return Problem("bad_field", "of", "An undo cannot be corrected: undo it instead.")
    return None


def _correction(event: Event, form: str, farm_id: str) -> Problem | None:
    said = event["data"]["data"]
    wrong = correction_problem(form, said)
    return wrong or (_rules_problem({**event, "data": said}, farm_id) if form == "rules" else None)


def _rules_problem(event: Event, farm_id: str) -> Problem | None:
    if event["subject"] != farm_id:
        return Problem("bad_field", "subject", "Herd rules belong to the farm: open the farm's rules and try again.")
    for name, value in event["data"]["f"].items():
        rule = RULES.get(name)
        if rule and not (isinstance(value, int) and rule.low <= value <= rule.high):
            why = f"{name} must be between {rule.low} and {rule.high} ({rule.unit})."
            return Problem("bad_field", f"f.{name}", why)
    return None
