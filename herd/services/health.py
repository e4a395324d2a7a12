"""Whether an entry would be kept now: a row is written, there is room for more, and the pages can be read."""

from __future__ import annotations

import os
import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from threading import Lock
from typing import Any

from django.conf import settings
from django.db import DatabaseError, connection, transaction

from herd.models import Probe

# A morning of a large barn with pictures fits into this; SQLite needs room beside its file for each write.
LEAST_FREE = 32 * 2**20
PATIENCE_MS = 2_000
PAGES_EVERY_S, PAGES_MOST_S, STEPS = 60.0, 0.3, 20_000
KEPT_S = 1.0


@dataclass(frozen=True, slots=True)
class Ill:
    code: str
    message: str


FULL = Ill("full", "The disk is full: make room on it. Phones keep what they hold and send it afterwards.")
READ_ONLY = Ill("read_only", "The database cannot be written: see who owns its file and how its disk is mounted.")
CORRUPT = Ill("corrupt", "The database file is damaged: stop the server and restore the last backup.")
BUSY = Ill("busy", "Something has been writing for long: wait, and see what else runs if it stays so.")
GONE = Ill("no_database", "The database does not answer: see whether it runs and whether DATABASE_URL is right.")
# What SQLite says, and the classes of PostgreSQL's codes.
TOLD = (
    (("disk is full", "no space left"), ("53100",), FULL),
    (("readonly", "read-only", "unable to open"), ("25006", "42501"), READ_ONLY),
    (("malformed", "not a database", "disk i/o error"), ("XX001", "XX002"), CORRUPT),
    (("locked", "busy"), ("55P03", "57014"), BUSY),
)
_last: dict[str, Any] = {"at": -KEPT_S, "ill": None, "pages_at": -PAGES_EVERY_S, "pages": None}
_one = Lock()


def health() -> Ill | None:
    """What keeps entries from being kept. Whoever asks again within a second hears the same."""
    with _one:
        if time.monotonic() - _last["at"] >= KEPT_S:
            _last["ill"] = look()
            _last["at"] = time.monotonic()
        ill: Ill | None = _last["ill"]
        return ill


def look() -> Ill | None:
    try:
        return _room() or _write() or _pages()
    except (DatabaseError, sqlite3.Error, OSError) as error:
        return told(error)


def told(error: BaseException) -> Ill:
    """What a database's error means, in our words."""
    said = f"{error} {error.__cause__ or ''}".lower()
    state = getattr(error.__cause__, "sqlstate", None) or ""
    ill = next((ill for words, codes, ill in TOLD if state in codes or any(word in said for word in words)), GONE)
    return FULL if ill is not BUSY and _left_no_room() else ill


def free_bytes(folder: Path) -> int:
    found = os.statvfs(folder)
    return found.f_bavail * found.f_frsize


def _left_no_room() -> bool:
    """SQLite may only say that it cannot open or read the files beside its database, which it could not make longer."""
    try:
        return connection.vendor == "sqlite" and free_bytes(settings.DATA_DIR) < LEAST_FREE
    except OSError:
        return False


def _room() -> Ill | None:
    return FULL if free_bytes(settings.DATA_DIR) < LEAST_FREE else None


def _write() -> Ill | None:
    now = time.time_ns() // 1_000_000
    with _impatient(), transaction.atomic():
        if not Probe.objects.filter(pk=1).update(at_ms=now):
            Probe.objects.bulk_create([Probe(pk=1, at_ms=now)], ignore_conflicts=True)
    return None


@contextmanager
def _impatient() -> Iterator[None]:
    """A write that waits as long as a phone's may is no answer to whoever watches over the server."""
    if connection.in_atomic_block:
        yield
        return
    lite = connection.vendor == "sqlite"
    with connection.cursor() as cursor:
        before = cursor.execute("PRAGMA busy_timeout").fetchone()[0] if lite else 0
        cursor.execute(f"PRAGMA busy_timeout={PATIENCE_MS}" if lite else f"SET statement_timeout={PATIENCE_MS}")
    try:
        yield
    finally:
        with connection.cursor() as cursor:
            cursor.execute(f"PRAGMA busy_timeout={before}" if lite else "RESET statement_timeout")


def _pages() -> Ill | None:
    """SQLite's own look at its pages, once a minute and for a moment. It begins at the same place each time and cannot
    go on from another: of damage late in a large file only `doctor` knows, and both it and the README say so."""
    if connection.vendor != "sqlite":
        return None
    if time.monotonic() - _last["pages_at"] >= PAGES_EVERY_S:
        _last["pages"] = CORRUPT if _spoilt() else None
        _last["pages_at"] = time.monotonic()
    ill: Ill | None = _last["pages"]
    return ill


def _spoilt() -> bool:
    connection.ensure_connection()
    raw = connection.connection
    until = time.monotonic() + PAGES_MOST_S
    raw.set_progress_handler(lambda: time.monotonic() > until, STEPS)
    try:
        return bool(raw.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok")
    except sqlite3.OperationalError as error:
        if "interrupted" in str(error):
            return False
        raise
    finally:
        raw.set_progress_handler(None, STEPS)
