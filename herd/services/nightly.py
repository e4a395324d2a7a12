"""What is done once a day, by whichever worker comes first. A new task is one more line of TASKS."""

from __future__ import annotations

import logging
from collections.abc import Callable
from datetime import UTC, datetime

from django.db.models import F

from herd.models import Farm, NightlyTask, WorkerSeen

from .bootstrap import shorten
from .media_sweep import sweep_all
from .tidy import tidy
from .years import read_years

log = logging.getLogger(__name__)
FORGOTTEN_AFTER_MS = 24 * 3600 * 1000


def tidy_up(now: int) -> None:
    tidy()


def let_pictures_go(now: int) -> None:
    sweep_all()


def forget_workers(now: int) -> None:
    """Those that ended without saying so."""
    WorkerSeen.objects.filter(seen_at_ms__lt=now - FORGOTTEN_AFTER_MS).delete()


def shorten_lists(now: int) -> None:
    """Where nothing has come since, last night's list is as good."""
    for farm_id in Farm.objects.exclude(short_list__seq=F("seq")).values_list("pk", flat=True):
        shorten(farm_id)


def look_back(now: int) -> None:
    """One farm's log that cannot be read through must not keep the others from theirs."""
    for farm_id in Farm.objects.values_list("pk", flat=True):
        try:
            read_years(farm_id)
        except Exception:
            log.exception("The years of a farm could not be read: %s", farm_id)


TASKS: list[Callable[[int], None]] = [tidy_up, let_pictures_go, forget_workers, shorten_lists, look_back]


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
