"""Between bytes and dicts: one raw event read once, or replayed from the log as it counts today."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import Any

import msgspec

from herd.state.envelope import MOST_BYTES, MOST_DEEP, TOO_BIG, TOO_DEEP, UNREADABLE, problem_of
from herd.state.order import Event, effective
from herd.state.payloads import Problem
from herd.state.upcast import upcast

decode = msgspec.json.Decoder().decode
_encode = msgspec.json.Encoder(order="sorted").encode


def canonical(value: Any) -> str:
    """One text for one content: keys sorted, no spaces."""
    return _encode(value).decode()


def digest(text: str | bytes) -> str:
    return hashlib.sha256(text.encode() if isinstance(text, str) else text).hexdigest()


@dataclass(slots=True)
class Read:
    """What came of one raw event. `event` may stand beside a problem, so that the answer can name its id."""

    raw: bytes
    event: Event
    problem: Problem | None

    @property
    def id(self) -> str:
        value = self.event.get("id")
        return value if isinstance(value, str) and len(value) <= 40 else ""


def read(raw: bytes) -> Read:
    if len(raw) > MOST_BYTES:
        return Read(raw, _id_only(raw), TOO_BIG)
    event = as_object(raw)
    if is_deep(event):
        return Read(raw, {"id": event.get("id")}, TOO_DEEP)
    return Read(raw, event, problem_of(event) if event else UNREADABLE)


def is_deep(value: Any) -> bool:
    """Parts within parts without end: nobody records so, and not every reader of the log comes back from there."""
    level = [value]
    for _ in range(MOST_DEEP):
        inner = (part.values() if isinstance(part, dict) else part for part in level if isinstance(part, dict | list))
        level = [one for parts in inner for one in parts if isinstance(one, dict | list)]
        if not level:
            return False
    return True


def as_object(raw: bytes) -> Event:
    """Nothing when it is no object."""
    try:
        raw.decode()
        event = decode(raw)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return {}
    return event if isinstance(event, dict) else {}


def _id_only(raw: bytes) -> Event:
    return {"id": as_object(raw).get("id")}


# What stands for a row that is no entry at all: the fold sets it aside.
NOTHING = {"id": "", "kind": "", "v": 0, "subject": "", "on": "", "slot": "", "happened": 0, "hlc": "", "author": ""}


def replay(raw: str, eff: str) -> Event:
    """A stored event with effective values in place and old versions in their newest form. What cannot be read comes
    back as it is, or as nothing: the fold sets it aside, and nobody who reads the log stumbles over it."""
    try:
        event = _replayed(raw)
        put_right = decode(eff) if eff else None
    except (msgspec.DecodeError, RecursionError):
        return dict(NOTHING)
    return upcast(effective(event, put_right)) if isinstance(event, dict) else dict(NOTHING)


def _number(text: str) -> int | float:
    """The phones' language knows one kind of number: 2.0 is a whole one."""
    value = float(text)
    return int(value) if value.is_integer() else value


_replayed = msgspec.json.Decoder(float_hook=_number).decode
