"""Rations: per (doe or pen, slot, feed) a list of dated amounts; a later set replaces from its first date on."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from .order import Event, rows, text, whole

# After every date.
LAST = "~"


def write_ration(rations: dict[str, Any], event: Event, questions: dict[str, Any]) -> None:
    """Apply one ration event; events arrive in stamp order."""
    data = event["data"]
    steps = clean_steps(rows(data, "steps"))
    if not steps:
        return
    key = f"{event['subject']}|{text(data, 'slot')}|{text(data, 'feed')}"
    held = rations.get(key)
    asked = f"ration|{key}"
    kept = [step for step in held["steps"] if step[0] < steps[0][0]] if held else []
    if held and text(data, "base") != held["hlc"] and held["steps"] != kept + steps:
        values = [
            {"value": held["steps"], "stamp": held["hlc"], "ev": held["ev"]},
            {"value": kept + steps, "stamp": event["hlc"], "ev": event["id"]},
        ]
        questions[asked] = {"kind": "ration", "subject": event["subject"], "field": key, "values": values}
    elif held and text(data, "base") == held["hlc"]:
        questions.pop(asked, None)
    first = steps[0][0]
    marks = [mark for mark in held["marks"] if mark["on"] < first] if held else []
    rations[key] = {
        "subject": event["subject"],
        "slot": text(data, "slot"),
        "feed": text(data, "feed"),
        "steps": kept + steps,
        "marks": marks + marks_of(event, first),
        "hlc": event["hlc"],
        "ev": event["id"],
    }


def telling(events: Iterable[Event], on: str) -> list[Event]:
    """Those of some ration events, in stamp order, that say what is fed on a date or later: the few after which each
    later one begins after that date."""
    kept: list[Event] = []
    first: dict[tuple[str, str, str], str] = {}
    for event in reversed(list(events)):
        data = event["data"]
        key = (event["subject"], text(data, "slot"), text(data, "feed"))
        starts = min((text(step, "on") for step in rows(data, "steps") if text(step, "on")), default="")
        if starts and first.get(key, LAST) > on:
            kept.append(event)
            first[key] = min(first.get(key, LAST), starts)
    return kept[::-1]


def marks_of(event: Event, on: str) -> list[dict[str, Any]]:
    """What brought the amounts from a date on: an act and what it promised, or a reason; none where nothing is said."""
    data = event["data"]
    act, reason = text(data, "act"), text(data, "reason")
    if not act and not reason:
        return []
    promised = {"of": text(data, "of"), "from_pm": whole(data, "from_pm"), "to_pm": whole(data, "to_pm")}
    return [{"on": on, "act": act, **promised, "by_on": text(data, "by_on"), "reason": reason, "ev": event["id"]}]


def clean_steps(steps: list[dict[str, Any]]) -> list[list[Any]]:
    """Dated grams sorted by date, the last one given for a date standing."""
    by_date = {text(step, "on"): whole(step, "g") for step in steps if text(step, "on")}
    return [[on, by_date[on]] for on in sorted(by_date)]


def amount_on(steps: list[list[Any]], on: str) -> int:
    """Grams a day in force on a date; 0 before the first step."""
    grams = 0
    for start, amount in steps:
        if start <= on:
            grams = amount
    return grams
