"""Voids and corrections: which events still count, and with what content."""

from __future__ import annotations

from .order import Event, by_stamp, mapping, text

CHAIN = ("void", "correct")


def settle(events: list[Event]) -> tuple[list[Event], dict[str, str], list[str]]:
    """Live events with corrections applied, {voided id: the void's id}, ids whose target is not here yet.

    A void or correction counts only when its stamp is greater than its target's, so chains cannot loop:
    walking from the latest stamp down, everything that could end an event has been judged before it.
    """
    index = {event["id"]: event for event in events}
    links = sorted((e for e in events if e["kind"] in CHAIN), key=by_stamp, reverse=True)
    voided: dict[str, str] = {}
    fixes: dict[str, Event] = {}
    waiting = []
    for link in links:
        target = index.get(text(link["data"], "of"))
        if target is None:
            waiting.append(link["id"])
        elif link["id"] not in voided and by_stamp(target) < by_stamp(link):
            if link["kind"] == "void":
                voided.setdefault(target["id"], link["id"])
            else:
                fixes.setdefault(_root(target, index), link)
    live = [_corrected(e, fixes.get(e["id"])) for e in events if e["kind"] not in CHAIN and e["id"] not in voided]
    return live, voided, waiting


def _root(event: Event, index: dict[str, Event]) -> str:
    while event["kind"] == "correct":
        target = index.get(text(event["data"], "of"))
        if target is None or by_stamp(target) >= by_stamp(event):
            break
        event = target
    return str(event["id"])


def _corrected(event: Event, fix: Event | None) -> Event:
    if fix is None:
        return event
    data = fix["data"]
    changed = {**event, "data": mapping(data, "data"), "fixed_by": fix["id"]}
    for key in ("on", "slot", "happened"):
        if key in data and type(data[key]) is type(event[key]):
            changed[key] = data[key]
    return changed
