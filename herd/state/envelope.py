"""One event as it came over the wire: the sender's own bytes in, a dict that can be folded out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import msgspec

from .checks import STAMP, Check, choice, day, match, ref, text, whole
from .kinds import SLOTS, known
from .order import Event, effective
from .payloads import Problem, problem_in
from .upcast import upcast

MOST_BYTES = 65_536
LATEST_MS = 253_402_300_799_000
KIND_NAME = 40
ENVELOPE: dict[str, Check] = {
    "id": ref("The entry's id"),
    "kind": text("The kind", 1, KIND_NAME),
    "v": whole("The version", 1, 1_000),
    "subject": ref("The subject"),
    "on": day("The date"),
    "slot": choice("The time of day", SLOTS),
    "happened": whole("The time it happened", 0, LATEST_MS),
    "entered": whole("The time it was entered", 0, LATEST_MS),
    "hlc": match("The clock stamp", STAMP, "a clock stamp"),
    "author": ref("The author"),
    "device": ref("The device"),
}
TOO_BIG = Problem("too_big", "", f"The entry is larger than {MOST_BYTES // 1024} kB: shorten it and record it again.")
UNREADABLE = Problem("unreadable", "", "The entry cannot be read: record it again.")
_decode = msgspec.json.Decoder().decode


@dataclass(frozen=True, slots=True)
class Read:
    """What became of one raw event. `event` may stand beside a problem, so that the answer can name its id."""

    raw: bytes
    event: Event | None
    problem: Problem | None

    @property
    def id(self) -> str:
        value = self.event.get("id") if self.event else None
        return value if isinstance(value, str) and len(value) <= KIND_NAME else ""


def read(raw: bytes) -> Read:
    """Judge one event alone: never by its clock, its age, or what else is known."""
    try:
        event: Any = _decode(raw)
        raw.decode()
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return Read(raw, None, UNREADABLE)
    if not isinstance(event, dict):
        return Read(raw, None, UNREADABLE)
    return Read(raw, event, TOO_BIG if len(raw) > MOST_BYTES else problem_of(event))


def problem_of(event: dict[str, Any]) -> Problem | None:
    for name, check in ENVELOPE.items():
        if name not in event:
            return Problem("bad_field", name, f"The entry has no {name}: update the app and record it again.")
        if why := check(event[name]):
            return Problem("bad_field", name, why)
    if event.keys() - ENVELOPE.keys() != {"data"}:
        return Problem("bad_field", "data", "The entry has parts this farm does not know: update the app.")
    return problem_in(event["kind"], event["v"], event["data"]) if known(event["kind"], event["v"]) else None


def replayed(raw: str, eff: str) -> Event:
    """A stored event as it counts today: effective values in place, old versions in their newest form."""
    event: Event = _decode(raw)
    if eff:
        event = effective(event, _decode(eff))
    return upcast(event) if known(event["kind"], event["v"]) else event
