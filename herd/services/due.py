"""When a farm's outlooks are to be made, as the farm's own date and as the instant the worker looks for."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

from herd.models import Farm

from .clock import now_ms

NEVER = "9999-12-31"
NOT_YET = 2**53
# Written whenever a farm's due date was set.
FIELDS = ("outlooks_due_on", "work_at_ms")


def set_due(farm: Farm, on: str = "") -> None:
    """Due from that date of the farm's, or now: behind all that have been longer. The farm row must be locked."""
    farm.outlooks_due_on = on
    if on:
        farm.work_at_ms = starts_ms(on, farm.zone)
    elif farm.work_at_ms > (now := now_ms()):
        farm.work_at_ms = now


def starts_ms(on: str, zone: str) -> int:
    day = date.fromisoformat(on)
    return int(datetime(day.year, day.month, day.day, tzinfo=ZoneInfo(zone)).timestamp() * 1000)
