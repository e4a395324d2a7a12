"""What two people may have recorded of one thing: both are kept, and one question is asked on every phone."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from string import ascii_lowercase, ascii_uppercase
from typing import Any

from .order import Event, text, truth

# No goat kids twice in that time, and a twin that came an hour later is no kidding of its own.
KIDDED_APART_D = 100
LOWER = str.maketrans(ascii_uppercase, ascii_lowercase)


def said_twice(timed: Iterable[Event]) -> dict[str, dict[str, Any]]:
    """Questions by the key they are asked under. Meanwhile all treatments hold, the longest the longest, and she has
    kidded once, on the later day."""
    found: dict[str, list[str]] = {}
    kidded: dict[str, tuple[str, str]] = {}
    for event in timed:
        subject, on = event["subject"], event["on"]
        if event["kind"] == "treatment" and not truth(event["data"], "again"):
            product = text(event["data"], "product").translate(LOWER).strip(" ")
            found.setdefault(f"treated_twice|{subject}|{on}|{product}", []).append(event["id"])
        elif event["kind"] == "kidded":
            before, mark = kidded.get(subject, ("", ""))
            if before and is_same_kidding(before, on):
                found.setdefault(f"kidded_twice|{subject}|", [mark]).append(event["id"])
            kidded[subject] = (on, event["id"])
    return {key: _question(key, sorted(set(marks))) for key, marks in found.items() if len(marks) > 1}


def is_same_kidding(one: str, other: str) -> bool:
    # Before that year the other language reads two digits.
    dated = one > "1000" and other > "1000"
    return dated and abs((date.fromisoformat(other) - date.fromisoformat(one)).days) < KIDDED_APART_D


def _question(key: str, marks: list[str]) -> dict[str, Any]:
    kind, subject, field = key.split("|", 2)
    values = [{"value": mark, "stamp": "", "ev": mark} for mark in marks]
    return {"kind": kind, "subject": subject, "field": field, "values": values}
