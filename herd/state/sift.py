"""Before anything is folded: which entries count, which wait, and which are set aside because nobody can read them."""

from __future__ import annotations

from collections.abc import Container
from typing import Any, NamedTuple

from .chains import settle
from .kinds import CHAINS, RECORDS, known
from .order import Event, text
from .readable import STOPPED, content_fault, envelope_fault

# Placed by their stamps, which were put right, and not by their day.
STAMPED = (*RECORDS, *CHAINS, "ration", "wish", "decline", "kit_used")
# Left out is the dangerous side: its holds carry dates of their own, off the label, and somebody drinks that milk.
HELD_ALL_THE_SAME = ("treatment",)
TOLD = ("kind", "subject", "on", "slot", "happened", "author")


class Sifted(NamedTuple):
    """`aside`: [{"ev": id, "kind", "why"}] in the order of the ids; `voided`: {id: the void's id}; `parked`: ids;
    `undated`: whose clock was so wrong that nobody knows their day, until somebody has said it."""

    counts: list[Event]
    parked: list[str]
    aside: list[dict[str, str]]
    voided: dict[str, str]
    undated: list[dict[str, Any]]


def sift(events: list[Event], stopped: Container[str]) -> Sifted:
    """`stopped`: ids of entries the fold has stopped on."""
    there: dict[str, Event] = {}
    why: dict[str, str] = {}
    for event in events:
        if fault := envelope_fault(event):
            why[_told(event, "id")] = fault
        else:
            there[event["id"]] = event
    live, voided, parked, unread = settle(list(there.values()))
    why |= unread
    counts: list[Event] = []
    undated: list[dict[str, Any]] = []
    for event in live:
        if not known(event["kind"], event["v"]):
            parked.append(event["id"])
        elif fault := STOPPED if event["id"] in stopped else content_fault(event["kind"], event.get("data")):
            why[event["id"]] = fault
        else:
            if "odd" in event and event["kind"] not in STAMPED:
                undated.append({"ev": event["id"], **{name: event[name] for name in TOLD}})
            if "odd" not in event or event["kind"] in (*STAMPED, *HELD_ALL_THE_SAME):
                counts.append(event)
    kinds = {_told(event, "id"): _told(event, "kind") for event in events} if why else {}
    aside = [{"ev": mark, "kind": kinds[mark], "why": why[mark]} for mark in sorted(why)]
    return Sifted(counts, parked, aside, voided, sorted(undated, key=lambda one: str(one["ev"])))


def _told(event: Any, key: str) -> str:
    """Of an entry so broken that it has no id, nothing is told."""
    return text(event, key) if isinstance(event, dict) and isinstance(event.get("id"), str) else ""
