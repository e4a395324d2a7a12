"""Dates as they are written, some days apart."""

from __future__ import annotations

from datetime import date, timedelta


def shift(day: str, days: int) -> str:
    """A date some days later (or earlier)."""
    return (date.fromisoformat(day) + timedelta(days=days)).isoformat()


def days_between(first: str, last: str) -> int:
    """Whole days from one date to another."""
    return (date.fromisoformat(last) - date.fromisoformat(first)).days
