"""The worker's turns: the farm that has been due longest, so many does of it, then the next.

Several workers may run, on several machines: whoever takes a farm has it to itself for a while, and what one leaves
behind that died is taken up when that while is over. Two at once would still be correct, only twice the work.
"""

from __future__ import annotations

import logging
import os
import socket
import time
from collections.abc import Callable

from django.db import DatabaseError, InterfaceError, close_old_connections, connection, transaction

from herd.log import about
from herd.models import Farm, WorkerSeen

from . import due as dates
from . import nightly
from .clock import now_ms
from .recompile import recompile
from .science import science_version
from .telling import outbox

log = logging.getLogger(__name__)
MOST_DOES = 40
LEASE_MS = 10_000
# What no turn can do, for whatever reason, must not keep the others waiting.
PUT_OFF_MS = 5 * 60_000
IDLE_S, LONGEST_IDLE_S = 0.25, 1.0
SHOWN_EVERY_MS = 10_000


def take_next(now: int) -> str | None:
    """Lease the farm that has been due longest to whoever asks."""
    waiting = Farm.objects.filter(work_at_ms__lte=now, lease_until_ms__lte=now).order_by("work_at_ms")
    ids = waiting.values_list("id", flat=True)[:3]
    return next((str(farm_id) for farm_id in ids if _lease(farm_id, now)), None)


def _lease(farm_id: str, now: int) -> bool:
    return bool(Farm.objects.filter(pk=farm_id, lease_until_ms__lte=now).update(lease_until_ms=now + LEASE_MS))


def turn(farm_id: str) -> None:
    with about(farm=farm_id):
        try:
            recompile(farm_id, most=MOST_DOES)
            if Farm.objects.filter(pk=farm_id, lease_until_ms__gt=0).exists():
                _give_back(farm_id)
        except (DatabaseError, InterfaceError):
            raise
        except Exception:
            log.exception("No outlooks for a farm: it is put off")
            later = now_ms() + PUT_OFF_MS
            Farm.objects.filter(pk=farm_id).update(work_at_ms=later, lease_until_ms=0)


@transaction.atomic
def _give_back(farm_id: str) -> None:
    """A farm that was not due after all, by its own date, is looked at when it is."""
    farm = Farm.objects.select_for_update().filter(pk=farm_id).first()
    if farm:
        farm.lease_until_ms = 0
        dates.set_due(farm, farm.outlooks_due_on)
        farm.save(update_fields=["lease_until_ms", *dates.FIELDS])


def another_science(now: int) -> str | None:
    """A farm whose outlooks are of another science than this build's, one at a time and after all that wait."""
    this = science_version()
    rows = Farm.objects.filter(lease_until_ms__lte=now).order_by("work_at_ms").values_list("id", flat=True)
    ids = [*rows.filter(science__lt=this)[:1], *rows.filter(science__gt=this)[:1]]
    return next((str(farm_id) for farm_id in ids if _lease(farm_id, now)), None)


def step(now: int | None = None) -> bool:
    """One turn; False when nothing is due."""
    farm_id = take_next(now or now_ms())
    if farm_id:
        turn(farm_id)
    return farm_id is not None


def work_off(farm_id: str, turns: int = 1000) -> None:
    """Turn after turn of one farm until nothing is due: for whoever must have its outlooks now."""
    for _ in range(turns):
        turn(farm_id)
        if Farm.objects.get(pk=farm_id).work_at_ms > now_ms():
            return


class Worker:
    def __init__(self, asked_to_stop: Callable[[], bool]) -> None:
        self.name = f"{socket.gethostname()}:{os.getpid()}"[:120]
        self.asked_to_stop = asked_to_stop
        self.shown_ms = 0
        # Once a build's numbers have reached every farm they have, until another build starts.
        self.renewed = False
        self.idle_s = IDLE_S

    def run(self) -> None:
        while not self.asked_to_stop():
            try:
                self.once()
            except (DatabaseError, InterfaceError):
                log.exception("The database does not answer: the worker waits")
                connection.close()
                time.sleep(LONGEST_IDLE_S)

    def once(self) -> None:
        close_old_connections()
        now = now_ms()
        if now - self.shown_ms >= SHOWN_EVERY_MS:
            self.show(now)
            nightly.run_due(now)
        told = outbox.step()
        if step() or told or self.renew():
            self.idle_s = IDLE_S
        else:
            time.sleep(self.idle_s)
            self.idle_s = min(LONGEST_IDLE_S, self.idle_s * 1.2)

    def renew(self) -> bool:
        farm_id = None if self.renewed else another_science(now_ms())
        self.renewed = farm_id is None
        if farm_id:
            turn(farm_id)
        return farm_id is not None

    def show(self, now: int) -> None:
        waiting = Farm.objects.filter(work_at_ms__lte=now).order_by("work_at_ms")
        since = waiting.values_list("work_at_ms", flat=True).first()
        seen = {"seen_at_ms": now, "backlog": waiting.count(), "due_since_ms": since}
        WorkerSeen.objects.update_or_create(name=self.name, defaults=seen)
        self.shown_ms = now

    def gone(self) -> None:
        WorkerSeen.objects.filter(name=self.name).delete()
