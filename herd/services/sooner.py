"""Holds on milk and meat: a later word on a treatment may end one, and a helper ends none sooner than it stands."""

from __future__ import annotations

from collections.abc import Iterable

from herd.models.farm import HELPER
from herd.state import chains
from herd.state.kinds import CHAINS
from herd.state.order import Event as Fact
from herd.state.order import by_stamp, content, text
from herd.state.payloads import Problem

from .entry import Entry
from .roles import NO_SOONER, NOT_HERS, may

HELD_BY = ("treatment",)


def sooner(held: Iterable[Entry]) -> dict[str, Problem]:
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
