"""Disk, clock, and who may read the files."""

from __future__ import annotations

import os
import shutil
import stat
import time
import urllib.request
from collections.abc import Iterator
from datetime import UTC, datetime
from email.utils import parsedate_to_datetime
from pathlib import Path

from django.conf import settings
from django.db.models import Max

from herd.models import Event
from herd.services.health import LEAST_FREE, look
from herd.services.telling.vapid import BadKey, public_key

from .finding import BAD, FINE, LOOK, NOT_SEEN, Finding

GB = 2**30
LITTLE, ENOUGH_SHARE = 1 * GB, 0.05
CLOCK_OFF_S, CLOCK_FAR_OFF_S = 30, 300
# Any site by TLS tells the time of day in its answer; this one serves the machine's updates already.
TIME_FROM = "https://deb.debian.org/"
MONTH_MS = 30 * 86_400_000
PRIVATE = ("secret_key", "vapid_key", "mangerline.sqlite3", "mangerline.sqlite3-wal", "mangerline.sqlite3-shm")


def disk() -> Iterator[Finding]:
    found = shutil.disk_usage(settings.DATA_DIR)
    said = f"{found.free / GB:.1f} GB of {found.total / GB:.0f} GB are free where the data lies."
    if found.free < 4 * LEAST_FREE:
        yield Finding(BAD, "disk", said, "Make room now: entries are refused when it is full. Old backups go first.")
    elif found.free < LITTLE or found.free < ENOUGH_SHARE * found.total:
        yield Finding(LOOK, "disk", said, "Make room, or move the data to a larger disk.")
    else:
        yield Finding(FINE, "disk", said)


def writing() -> Iterator[Finding]:
    ill = look()
    yield Finding(BAD, "writing", ill.message, "") if ill else Finding(FINE, "writing", "A row was written.")


def clock() -> Iterator[Finding]:
    now_ms = time.time_ns() // 1_000_000
    last_ms = Event.objects.aggregate(last=Max("received_ms"))["last"] or 0
    if last_ms > now_ms + CLOCK_OFF_S * 1000:
        on = datetime.fromtimestamp(last_ms / 1000, UTC)
        said = f"The last entry came in on {on:%Y-%m-%d %H:%M} UTC, which is still to come by this machine's clock."
        yield Finding(BAD, "clock", said, "Set the clock, and let it be kept: timedatectl set-ntp true.")
    yield heard(now_ms)


def heard(now_ms: int, url: str = TIME_FROM) -> Finding:
    try:
        request = urllib.request.Request(url, method="HEAD")
        with urllib.request.urlopen(request, timeout=4) as answer:
            there = parsedate_to_datetime(answer.headers["Date"])
    except (OSError, TypeError, ValueError):
        return Finding(NOT_SEEN, "clock", "No other clock could be reached to compare with.")
    off_s = abs(now_ms / 1000 - there.timestamp())
    said = f"The clock differs by {off_s:.0f} s from that of {url}."
    if off_s > CLOCK_OFF_S:
        level = BAD if off_s > CLOCK_FAR_OFF_S else LOOK
        return Finding(level, "clock", said, "Set the clock, and let it be kept: timedatectl set-ntp true.")
    return Finding(FINE, "clock", said)


def files() -> Iterator[Finding]:
    folder = Path(settings.DATA_DIR)
    # Left open on the folder by an early build, and by hand.
    wide = [path for path in (folder, *(folder / name for name in PRIVATE)) if path.exists() and _open_to_others(path)]
    for path in wide:
        mode = "700" if path.is_dir() else "600"
        said = f"Others on this machine can read {path}."
        yield Finding(BAD if path.name.endswith("_key") else LOOK, "files", said, f"chmod {mode} {path}")
    foreign = [path for path in folder.iterdir() if path.stat().st_uid != os.geteuid()]
    if foreign and os.geteuid() != 0:
        said = f"{foreign[0]} belongs to another user than the one the server runs as."
        yield Finding(BAD, "files", said, f"chown -R {os.geteuid()} {folder}")
    if not wide and not foreign:
        yield Finding(FINE, "files", "Only the server's user reads its data.")


def notices() -> Iterator[Finding]:
    """The key by which phones are reached: another one reaches none that has subscribed before."""
    if not settings.VAPID_KEY_FILE.exists():
        yield Finding(FINE, "notices", "Nobody has asked for notices yet.")
        return
    try:
        public_key(settings.VAPID_KEY_FILE)
    except BadKey as error:
        do = f"Bring {settings.VAPID_KEY_FILE} back, or remove it: then each phone turns its notices on anew."
        yield Finding(BAD, "notices", str(error), do)
    else:
        yield Finding(FINE, "notices", "The key for notices is there.")


def _open_to_others(path: Path) -> bool:
    return bool(stat.S_IMODE(path.stat().st_mode) & 0o077)
