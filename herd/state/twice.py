"""What two people may have recorded of one thing: both are kept, and one question is asked on every phone."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from string import ascii_lowercase, ascii_uppercase
from typing import Any

from .order import Event, text, truth

# No goat kids twice in that time, and a twin that came an hour later is no kidding of its own.
KIDDED_APART_D = 100
# A doe that did not settle is back in heat some 18 to 23 days later: closer than this, two dates are of one service.
# Common practice, no source.
SERVED_APART_D = 14
LOWER = str.maketrans(ascii_uppercase, ascii_lowercase)


def said_twice(timed: Iterable[Event]) -> dict[str, dict[str, Any]]:
    """Questions by the key they are asked under. Meanwhile all treatments hold, the longest the longest; she has kidded
    once and was dried off on the later day, and may have settled on any of the days from the first to the last."""
    found: dict[str, list[str]] = {}
    kidded: dict[str, tuple[str, str]] = {}
    turns: dict[str, list[tuple[str, str]]] = {}
    for event in timed:
        subject, on, kind = event["subject"], event["on"], event["kind"]
        if kind == "treatment" and not truth(event["data"], "again"):
            product = text(event["data"], "product").translate(LOWER).strip(" ")
            found.setdefault(f"treated_twice|{subject}|{on}|{product}", []).append(event["id"])
        elif kind == "kidded":
            before, mark = kidded.get(subject, ("", ""))
            if before and is_same_kidding(before, on):
                found.setdefault(f"kidded_twice|{subject}|", [mark]).append(event["id"])
            kidded[subject] = (on, event["id"])
        _turn(turns, event)
    found |= {key: [mark for _, mark in said] for key, said in turns.items() if len({on for on, _ in said}) > 1}
    return {key: _question(key, sorted(set(marks))) for key, marks in found.items() if len(marks) > 1}


def _turn(turns: dict[str, list[tuple[str, str]]], event: Event) -> None:
    """When she was served and dried off, as often as somebody said so; what has ended since is asked no more."""
    kind, data = event["kind"], event["data"]
    bred, dried = f"bred_twice|{event['subject']}|", f"dried_twice|{event['subject']}|"
    if kind == "kidded":
        turns.pop(dried, None)
    if kind == "kidded" or (kind == "preg_check" and text(data, "result") == "open"):
        turns.pop(bred, None)
    elif kind == "bred" and not truth(data, "again"):
        first = text(data, "from_on") or event["on"]
        near = [one for one in turns.get(bred, []) if is_same_service(one[0], first)]
        turns[bred] = [*near, (first, event["id"])]
    elif kind == "dried_off" and not truth(data, "again"):
        turns.setdefault(dried, []).append((event["on"], event["id"]))


def is_same_kidding(one: str, other: str) -> bool:
    return is_within(one, other, KIDDED_APART_D)


def is_same_service(one: str, other: str) -> bool:
    return is_within(one, other, SERVED_APART_D)


def is_within(one: str, other: str, days: int) -> bool:
    # Before that year the other language reads two digits.
    dated = one > "1000" and other > "1000"
    return dated and abs((date.fromisoformat(other) - date.fromisoformat(one)).days) < days


def _question(key: str, marks: list[str]) -> dict[str, Any]:
    kind, subject, field = key.split("|", 2)
    values = [{"value": mark, "stamp": "", "ev": mark} for mark in marks]
    return {"kind": kind, "subject": subject, "field": field, "values": values}
