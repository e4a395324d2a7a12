from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from herd.state.order import Event as Fact


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of the log as it counts, and as what it came."""

    event: Fact
    role: str
    received_on: date

    @property
    def id(self) -> str:
        return str(self.event["id"])
