"""Dates as day numbers, so a span of days is an array."""

from __future__ import annotations

from datetime import date

Day = int


def day(text: str | date) -> Day:
    """Day number of a date."""
    return (text if isinstance(text, date) else date.fromisoformat(text)).toordinal()


def iso(number: float) -> str:
    """Date of a day number as text."""
    return date.fromordinal(int(number)).isoformat()
