"""What is done once a day, by whichever worker comes first. A new task is one more line of TASKS."""

from __future__ import annotations

import logging
from collections.abc import Callable
from datetime import UTC, datetime

from django.core.management import call_command

from herd.models import NightlyTask, WorkerSeen

log = logging.getLogger(__name__)
FORGOTTEN_AFTER_MS = 24 * 3600 * 1000


def clear_sessions(now: int) -> None:
    call_command("clearsessions")


def forget_workers(now: int) -> None:
    """Those that ended without saying so."""
    WorkerSeen.objects.filter(seen_at_ms__lt=now - FORGOTTEN_AFTER_MS).delete()


TASKS: list[Callable[[int], None]] = [clear_sessions, forget_workers]


def run_due(now: int) -> None:
    """Each task on its own: one that fails is tried again tomorrow and keeps none of the others."""
    today = datetime.fromtimestamp(now / 1000, UTC).date().isoformat()
    done = set(NightlyTask.objects.filter(done_on=today).values_list("name", flat=True))
    for task in TASKS:
        if task.__name__ not in done and _mine(task.__name__, today):
            try:
                task(now)
            except Exception:
                log.exception("A nightly task failed: %s", task.__name__)


def _mine(name: str, today: str) -> bool:
    """A clock that runs behind another machine's takes nothing on a second time."""
    NightlyTask.objects.get_or_create(name=name)
    return bool(NightlyTask.objects.filter(name=name, done_on__lt=today).update(done_on=today))
