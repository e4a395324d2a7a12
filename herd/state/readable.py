"""What an entry must be made of before it counts. One that is not is set aside and named, and changes nothing.

Not the limits a new entry is held to (payloads.py): those move, fields are added, and a phone may be older than what it
reads. Only what the fold relies on: every field it takes is there and of its type. Twin: frontend/src/core/events.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any

from .checks import is_day
from .kinds import RECORDS, SLOTS, known
from .order import MOST_EXACT
from .tables import FIELDS as TABLE
from .tables import KINDS

ENVELOPE, DATA, FIELD, STOPPED = "envelope", "data", "field", "stopped"
MOST: int = TABLE["whole"]["most"]
TEXTS = ("id", "kind", "subject", "on", "slot", "hlc", "author")
CONTENT: dict[str, str] = {kind: row["reads"] for kind, row in KINDS.items() if "reads" in row}


def envelope_fault(event: Any) -> str:
    """ "envelope" when an entry cannot even be put in its place."""
    if not isinstance(event, dict):
        return ENVELOPE
    for name in TEXTS:
        if not isinstance(event.get(name), str):
            return ENVELOPE
    when = is_exact(event.get("happened")) and _is_date(event["on"]) and event["slot"] in SLOTS
    return "" if when and is_exact(event.get("v")) and "|" not in event["subject"] else ENVELOPE


def content_fault(kind: str, data: Any) -> str:
    """Why content in the newest form of a known kind cannot be read: "data" or "field"; "" when it can."""
    if not isinstance(data, dict):
        return DATA
    fits = _is_record(data) if kind in RECORDS else _has(FIELDS[kind], data)
    return "" if fits else FIELD


def readable(event: Any) -> bool:
    """Whether an entry in its newest form counts as it is; one this build does not know waits, and does not."""
    if envelope_fault(event) or not known(event["kind"], event["v"]):
        return False
    return not content_fault(event["kind"], event.get("data"))


def is_exact(value: Any) -> bool:
    """A whole number that both languages hold exactly."""
    return type(value) is int and -MOST_EXACT <= value <= MOST_EXACT


def is_date(value: Any) -> bool:
    return isinstance(value, str) and _is_date(value)


_is_date = lru_cache(4096)(is_day)


def _is_record(data: dict[str, Any]) -> bool:
    written, base = data.get("f"), data.get("base")
    if not isinstance(written, dict) or not isinstance(base, dict):
        return False
    return all(map(_is_value, written.values())) and all(isinstance(stamp, str) for stamp in base.values())


def _is_value(value: Any) -> bool:
    return value is None or isinstance(value, str | bool) or _is_whole(value) or _is_codes(value)


def _is_whole(value: Any) -> bool:
    return type(value) is int and -MOST <= value <= MOST


def _is_codes(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(item, str) for item in value)


def _is_line(row: dict[str, Any]) -> bool:
    return isinstance(row.get("to"), str) and isinstance(row.get("feed"), str) and _is_whole(row.get("g"))


def _is_step(row: dict[str, Any]) -> bool:
    return is_date(row.get("on")) and _is_whole(row.get("g"))


def _is_test(row: dict[str, Any]) -> bool:
    return all(isinstance(row.get(name), str) for name in ("what", "printed", "unit"))


def _rows(fits: Callable[[dict[str, Any]], bool]) -> Callable[[Any], bool]:
    def check(value: Any) -> bool:
        return isinstance(value, list) and all(isinstance(row, dict) and fits(row) for row in value)

    return check


Wanted = tuple[tuple[str, Callable[[Any], bool]], ...]


def _has(wanted: Wanted, data: dict[str, Any]) -> bool:
    return all(name in data and fits(data[name]) for name, fits in wanted)


def _parsed(fields: str) -> Wanted:
    pairs = (field.split(":") for field in fields.split())
    return tuple((name, TYPES[kind]) for name, kind in pairs)


TYPES: dict[str, Callable[[Any], bool]] = {
    "text": lambda value: isinstance(value, str),
    "day": is_date,
    "until": lambda value: value == "" or is_date(value),
    "flag": lambda value: isinstance(value, bool),
    "whole": _is_whole,
    "maybe": lambda value: value is None or _is_whole(value),
    "codes": _is_codes,
    "wholes": lambda value: isinstance(value, list) and all(map(_is_whole, value)),
    "object": lambda value: isinstance(value, dict),
    "lines": _rows(_is_line),
    "steps": _rows(_is_step),
    "values": _rows(_is_test),
}
FIELDS: dict[str, Wanted] = {kind: _parsed(fields) for kind, fields in CONTENT.items()}
