"""The time zone of this machine, so that the demo farm's today is the today of whoever looks at it."""

from __future__ import annotations

from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

MARK = "zoneinfo/"


def local_zone(tz: str, link: Path = Path("/etc/localtime")) -> str:
    """The TZ the machine was started with, else where /etc/localtime points, else UTC."""
    target = str(link.resolve())
    linked = target.split(MARK, 1)[1] if MARK in target else ""
    return next((name for name in (tz, linked) if _known(name)), "UTC")


def _known(name: str) -> bool:
    try:
        return bool(name) and bool(ZoneInfo(name))
    except (ZoneInfoNotFoundError, ValueError):
        return False
