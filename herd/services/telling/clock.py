"""One thing that falls due, whoever is told of it."""

from __future__ import annotations

from dataclasses import dataclass

HOUR_MS = 3600 * 1000
# Tasks are told in the morning.
TASKS_AT_H = 7
TASK = "task"


@dataclass(frozen=True, slots=True)
class Clock:
    kind: str
    code: str
    subject: str
    name: str
    at_ms: int
    # The same as long as it is the same matter.
    key: str
    urgent: bool = False
    by: str = ""
