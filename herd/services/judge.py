"""Where an event that is right in itself belongs, given what the farm's log already holds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from herd.models import Event as Row
from herd.models import Folded
from herd.models.event import OK, PARKED
from herd.outlook.rules import RULES
from herd.state.kinds import CHAINS, KINDS, known
from herd.state.order import Event
from herd.state.payloads import Problem, correction_problem


@dataclass(frozen=True, slots=True)
class Seen:
    """What must be known of an event in the log to judge one that repeats or names it."""

    sha256: str
    seq: int
    eff: str
    kind: str
    form: str
    subject: str
    author: str


@dataclass(slots=True)
class Log:
    """The part of a farm's log that one batch touches."""

    farm_id: str
    events: dict[str, Seen] = field(default_factory=dict)
    subjects: set[tuple[str, str]] = field(default_factory=set)

    def load_events(self, ids: set[str]) -> None:
        rows = Row.objects.filter(farm_id=self.farm_id, id__in=ids) if ids else Row.objects.none()
        for row in rows.values_list("id", "sha256", "seq", "eff", "kind", "form", "subject", "author"):
            self.events[row[0]] = Seen(*row[1:])

    def load_subjects(self, subjects: set[str]) -> None:
        if subjects:
            found = Folded.objects.filter(farm_id=self.farm_id, subject__in=subjects)
            self.subjects.update(found.values_list("subject", "kind"))


@dataclass(frozen=True, slots=True)
class Place:
    """`form` is the kind the content is written in; "" while this build cannot tell."""

    status: str
    form: str
    waits_for: str = ""
    problem: Problem | None = None


def names(events: Iterable[Event]) -> tuple[set[str], set[str]]:
    """The event ids and the subjects that have to be looked up before these events can be judged."""
    readable = [event for event in events if known(event["kind"], event["v"])]
    targets = {event["data"]["of"] for event in readable if event["kind"] in CHAINS}
    named = {event["subject"] for event in readable if KINDS[event["kind"]].about}
    return targets, named | {event["subject"] for event in readable if "order" in event["data"].get("f", ())}


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
    target_id = event["data"]["of"]
    if target_id == event["id"]:
        return Place(OK, "", problem=Problem("bad_field", "of", "An entry cannot take itself back."))
    target = log.events.get(target_id)
    if target is None:
        return Place(PARKED, "", target_id)
    if target.subject != event["subject"]:
        return Place(OK, "", problem=Problem("bad_field", "subject", "That entry is about somebody else: try again."))
    if event["kind"] == "void" or not target.form:
        return Place(OK if target.form or event["kind"] == "void" else PARKED, target.form)
    if target.kind == "void":
        return Place(OK, "", problem=Problem("bad_field", "of", "An undo cannot be corrected: undo it instead."))
    return Place(OK, target.form, problem=correction_problem(target.form, event["data"]["data"]))


def _rules_problem(event: Event, farm_id: str) -> Problem | None:
    if event["subject"] != farm_id:
        return Problem("bad_field", "subject", "Herd rules belong to the farm: open the farm's rules and try again.")
    for name, value in event["data"]["f"].items():
        rule = RULES.get(name)
        if rule and not (isinstance(value, int) and rule.low <= value <= rule.high):
            why = f"{name} must be between {rule.low} and {rule.high} ({rule.unit})."
            return Problem("bad_field", f"f.{name}", why)
    return None
