"""Voids and corrections: which events still count, and with what content."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from .kinds import CHAINS, SLOTS, known
from .order import Event, by_stamp, content, mapping, text
from .readable import FIELD, content_fault, is_date, is_exact

# What a correction may move an entry to.
MOVES: dict[str, Callable[[Any], bool]] = {
    "on": is_date,
    "slot": lambda value: isinstance(value, str) and value in SLOTS,
    "happened": is_exact,
}


class Settled(NamedTuple):
    """Live events with corrections applied, {voided id: the void's id}, ids whose target is not here yet, and
    {id: why} of the voids and corrections that cannot be read."""

    live: list[Event]
    voided: dict[str, str]
    waiting: list[str]
    aside: dict[str, str]


def settle(events: list[Event]) -> Settled:
    """A void or correction counts only when its stamp is greater than its target's, so chains cannot loop:
    walking from the latest stamp down, everything that could end an event has been judged before it.
    """
    index = {event["id"]: event for event in events}
    links = sorted((event for event in events if is_link(event)), key=by_stamp, reverse=True)
    voided: dict[str, str] = {}
    fixes: dict[str, Event] = {}
    waiting: list[str] = []
    aside: dict[str, str] = {}
    for link in links:
        target = index.get(text(content(link), "of"))
        root = _root(target, index) if target else None
        why = _link_fault(link, root)
        if why and link["id"] not in voided:
            aside[link["id"]] = why
        elif not why and (target is None or root is None):
            waiting.append(link["id"])
        elif link["id"] not in voided and target and root and by_stamp(target) < by_stamp(link):
            if link["kind"] == "void":
                voided.setdefault(target["id"], link["id"])
            else:
                fixes.setdefault(root["id"], link)
    ids = {link["id"] for link in links} | voided.keys()
    live = [_corrected(event, fixes.get(event["id"])) for event in events if event["id"] not in ids]
    return Settled(live, voided, waiting, aside)


def is_link(event: Event) -> bool:
    return event["kind"] in CHAINS and known(event["kind"], event["v"])


def _root(event: Event, index: dict[str, Event]) -> Event:
    """What a chain of corrections is about; it is followed only as long as it leads to older stamps."""
    while event["kind"] == "correct":
        target = index.get(text(content(event), "of"))
        if target is None or by_stamp(target) >= by_stamp(event):
            break
        event = target
    return event


def _link_fault(link: Event, root: Event | None) -> str:
    why = content_fault(link["kind"], link.get("data"))
    if why or link["kind"] == "void":
        return why
    data = link["data"]
    if any(name in data and not fits(data[name]) for name, fits in MOVES.items()):
        return FIELD
    if root is None or root["kind"] in CHAINS or not known(root["kind"], root["v"]):
        return ""
    return content_fault(root["kind"], data["data"])


def _corrected(event: Event, fix: Event | None) -> Event:
    if fix is None:
        return event
    data = fix["data"]
    # Somebody has said when it was.
    said = {"on", "happened"} & data.keys()
    kept = {name: value for name, value in event.items() if name != "odd" or not said}
    changed = {**kept, "data": mapping(data, "data"), "fixed_by": fix["id"]}
    return {**changed, **{name: data[name] for name in MOVES if name in data}}
