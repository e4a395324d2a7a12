"""What must be done again and again: backups, outlooks, clearing up."""

from __future__ import annotations

import time
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

from django.conf import settings
from django.contrib.sessions.models import Session
from django.db import connection
from django.utils import timezone

from herd.models import Farm
from herd.services.last_backup import last

from .finding import BAD, FINE, LOOK, Finding

DAY_S = 86_400
LATE_S, TRIED_S = 36 * 3600, 9 * DAY_S
WORKERS = "herd_workerseen"
UNSEEN_S, WAITS_S = 120, 600
MANY_SESSIONS = 5_000


def backups() -> Iterator[Finding]:
    said = last(Path(settings.DATA_DIR))
    how = "mangerline backup FOLDER --keep 30, each night: see `mangerline host` in the README."
    if not said:
        yield Finding(BAD if settings.ON_THE_NET else LOOK, "backup", "No backup was ever made here.", how)
        return
    age_s = time.time() - datetime.fromisoformat(said["at"]).timestamp()
    if said.get("spoilt"):
        message = f"The last backup holds {len(said['spoilt'])} entries that are not what was taken in."
        yield Finding(BAD, "backup", message, "Older backups are kept: restore the newest that is whole.")
    if not Path(said["file"]).exists():
        yield Finding(LOOK, "backup", f"{said['file']} is no longer there.", "Good if it was moved elsewhere.")
    if age_s > LATE_S:
        message = f"The last backup is {age_s / DAY_S:.0f} days old."
        yield Finding(BAD, "backup", message, "See why: systemctl status mangerline-backup")
    else:
        yield Finding(FINE, "backup", f"The last backup is {age_s / 3600:.0f} hours old, and was read to its end.")
    yield from _tried(said.get("tried", ""))


def _tried(tried: str) -> Iterator[Finding]:
    how = "mangerline verify_backup FILE restores it into a database that is thrown away again."
    if not tried:
        yield Finding(LOOK, "backup", "No backup was ever tried by restoring it.", how)
    elif time.time() - datetime.fromisoformat(tried).timestamp() > TRIED_S:
        yield Finding(LOOK, "backup", f"A backup was last tried by restoring it on {tried[:10]}.", how)
    else:
        yield Finding(FINE, "backup", f"A backup was tried by restoring it on {tried[:10]}.")


def outlooks() -> Iterator[Finding]:
    if WORKERS in connection.introspection.table_names():
        yield from _workers()
        return
    due = Farm.objects.filter(outlooks_due_on__lte=timezone.now().date().isoformat(), seq__gt=0).count()
    yield Finding(FINE, "outlooks", f"{due} farms wait for outlooks, which are made when a phone next asks.")


def _workers() -> Iterator[Finding]:
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT seen_at_ms, backlog, due_since_ms FROM {WORKERS} ORDER BY seen_at_ms DESC LIMIT 1")
        row = cursor.fetchone()
    now_ms = time.time_ns() // 1_000_000
    if row is None or now_ms - row[0] > UNSEEN_S * 1000:
        ago = "was never seen" if row is None else f"was last seen on {datetime.fromtimestamp(row[0] / 1000, UTC):%c}"
        do = "It runs inside `mangerline up`; by itself as `mangerline work`."
        yield Finding(BAD, "outlooks", f"The worker that makes outlooks {ago}.", do)
    elif row[2] and now_ms - row[2] > WAITS_S * 1000:
        said = f"{row[1]} farms wait for outlooks, the first for {(now_ms - row[2]) / 60_000:.0f} minutes."
        yield Finding(LOOK, "outlooks", said, "Let another machine, or a second `mangerline work`, help.")
    else:
        yield Finding(FINE, "outlooks", f"The worker runs; {row[1]} farms wait.")


def sessions() -> Iterator[Finding]:
    old = Session.objects.filter(expire_date__lt=timezone.now()).count()
    if old > MANY_SESSIONS:
        yield Finding(LOOK, "sessions", f"{old} sign-ins that ended are still kept.", "mangerline clearsessions")
    else:
        yield Finding(FINE, "sessions", f"{old} sign-ins that ended are kept.")
