"""A short way to write a farm's events in tests. Times run forward by one second per event unless a date is given."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from herd.state.upcast import upcast

SLOT_HOUR = {"": 12, "morning": 6, "midday": 12, "evening": 18, "late": 22}


class Log:
    """Collects event envelopes with rising clock stamps."""

    def __init__(self, author: str = "ada", device: str = "d1") -> None:
        self.events: list[dict[str, Any]] = []
        self.author, self.device = author, device

    def add(
        self, kind: str, subject: str, data: dict[str, Any], on: str = "2026-11-01", slot: str = "", **more: Any
    ) -> str:
        n = len(self.events) + 1
        at = datetime.fromisoformat(f"{on}T{SLOT_HOUR[slot]:02}:00:00").replace(tzinfo=UTC)
        event = {
            "id": f"e{n:05}",
            "kind": kind,
            "v": 2 if kind == "weight" else 1,
            "subject": subject,
            "on": on,
            "slot": slot,
            "happened": int(at.timestamp() * 1000) + n,
            "entered": 1_700_000_000_000 + n,
            "hlc": f"{n:012x}-0000-0000000a",
            "author": self.author,
            "device": self.device,
            "data": data,
        }
        self.events.append(upcast({**event, **more}))
        return event["id"]

    def record(self, kind: str, subject: str, base: dict[str, str] | None = None, **fields: Any) -> str:
        return self.add(kind, subject, {"f": fields, "base": base or {}})

    def pen(self, pen: str, *does: str, on: str = "2026-01-01", **fields: Any) -> None:
        self.record("pen", pen, name=pen, **fields)
        for doe in does:
            self.add("moved", doe, {"pen": pen}, on)

    def ration(self, subject: str, slot: str, feed: str, *steps: tuple[str, int], base: str = "") -> str:
        dated = [{"on": on, "g": g} for on, g in steps]
        return self.add(
            "ration", subject, {"to": "doe", "slot": slot, "feed": feed, "steps": dated, "base": base}, steps[0][0]
        )

    def fed(self, subject: str, on: str, slot: str, *lines: tuple[str, str, int], adds: bool = False) -> str:
        rows = [{"to": to, "feed": feed, "g": g} for to, feed, g in lines]
        return self.add("fed", subject, {"lines": rows, "adds": adds}, on, slot)

    def intake(self, subject: str, on: str, slot: str, how: str, left_pct: int = 0, fed: str = "") -> str:
        return self.add("intake", subject, {"how": how, "left_pct": left_pct, "feed": "", "fed": fed}, on, slot)

    def score(self, doe: str, on: str, x100: int) -> str:
        return self.add("score", doe, {"x100": x100}, on)
