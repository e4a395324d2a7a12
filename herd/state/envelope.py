"""One event's envelope: what every event carries, whatever its kind."""

from __future__ import annotations

from typing import Any

from .checks import STAMP, Check, choice, day, match, ref, text, whole
from .kinds import SLOTS, known
from .payloads import Problem, problem_in

MOST_BYTES = 65_536
LATEST_MS = 253_402_300_799_000
ENVELOPE: dict[str, Check] = {
    "id": ref("The entry's id"),
    "kind": text("The kind", 1, 40),
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


def problem_of(event: dict[str, Any]) -> Problem | None:
    """Judge one event alone: never by its clock, its age, or what else is known. Unknown kinds pass unjudged."""
    for name, check in ENVELOPE.items():
        if name not in event:
            return Problem("bad_field", name, f"The entry has no {name}: update the app and record it again.")
        if why := check(event[name]):
            return Problem("bad_field", name, why)
    if event.keys() - ENVELOPE.keys() != {"data"}:
        return Problem("bad_field", "data", "The entry has parts this farm does not know: update the app.")
    if not isinstance(event["data"], dict):
        # Whatever the kind: nobody can fold what is no table of fields.
        return Problem("bad_field", "data", "The entry has no content: record it again.")
    return problem_in(event["kind"], event["v"], event["data"]) if known(event["kind"], event["v"]) else None
