"""Days of a run are counted from its first look; the log wants dates."""

from __future__ import annotations

from datetime import date, timedelta

FIRST = date(2026, 3, 2)
WARM_UP_D, LOOKED_D = 12, 28
MEALS, SLOTS = ("morning", "evening"), ("morning", "midday", "evening", "late")


def on(day: int) -> str:
    return (FIRST + timedelta(days=day)).isoformat()


def day_of(text: str) -> int:
    return (date.fromisoformat(text) - FIRST).days
