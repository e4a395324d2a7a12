"""The time zone of this machine, so that the demo farm's today is the today of whoever looks at it."""

from __future__ import annotations

import os
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

MARK = "zoneinfo/"


def local_zone(link: Path = Path("/etc/localtime")) -> str:
    """TZ, else where /etc/localtime points, else UTC."""
    target = str(link.resolve())
    linked = target.split(MARK, 1)[1] if MARK in target else ""
    return next((name for name in (os.environ.get("TZ", ""), linked) if _known(name)), "UTC")


def _known(name: str) -> bool:
    try:
        return bool(name) and bool(ZoneInfo(name))
    except (ZoneInfoNotFoundError, ValueError):
        return False
