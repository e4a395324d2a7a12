"""One event's envelope: what every event carries, whatever its kind."""

from __future__ import annotations

from typing import Any

from .checks import Check, check_of
from .kinds import known
from .payloads import Problem, problem_in
from .tables import FIELDS

MOST_BYTES = 65_536
LATEST_MS: int = FIELDS["envelope"]["happened"]["high"]
ENVELOPE: dict[str, Check] = {name: check_of(field) for name, field in FIELDS["envelope"].items()}
TOO_BIG = Problem("too_big", "", f"The entry is larger than {MOST_BYTES // 1024} kB: shorten it and record it again.")
UNREADABLE = Problem("unreadable", "", "The entry cannot be read: record it again.")
MOST_DEEP = 32
TOO_DEEP = Problem("unreadable", "data", "The entry has parts within parts without end: record it again.")


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
