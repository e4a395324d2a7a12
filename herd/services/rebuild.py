"""Everything folded, made again from the log: after an upgrade, a restore, or a doubt."""

from __future__ import annotations

import logging

from django.db import transaction

from herd.models import Event, Farm
from herd.models.event import PARKED
from herd.state.envelope import problem_of
from herd.state.kinds import known

from .recompile import recompile
from .refold import rebuild as refold_all
from .waiting import settle, take_up
from .wire import as_object

log = logging.getLogger(__name__)
BATCH = 500


def rebuild(farm_id: str) -> int:
    """Fold the whole farm again, let in what this build can read by now, compile. Returns changed documents."""
    with transaction.atomic():
        farm = Farm.objects.select_for_update().get(pk=farm_id)
        refold_all(farm)
        _read_again(farm_id)
        Farm.objects.filter(pk=farm_id).update(outlooks_due_on="")
    return recompile(farm_id)


def _read_again(farm_id: str) -> None:
    """Kinds that were unknown when they came. They are judged as on the day of arrival, only later."""
    parked = Event.objects.filter(farm_id=farm_id, fold_status=PARKED, waits_for="").order_by("seq")
    seqs = [seq for seq, raw in parked.values_list("seq", "raw") if _readable(raw)]
    for first in range(0, len(seqs), BATCH):
        rows = Event.objects.filter(farm_id=farm_id, seq__in=seqs[first : first + BATCH]).order_by("seq")
        entered = take_up(farm_id, list(rows.values("id", "seq", "raw", "eff")))
        settle(farm_id, {subject for _, subject, _ in entered}, {event_id for event_id, _, _ in entered})


def _readable(raw: str) -> bool:
    event = as_object(raw.encode())
    if not known(event.get("kind"), event.get("v")):
        return False
    problem = problem_of(event)
    if problem:
        log.warning("A parked entry is not possible in the form now known: %s %s", event["id"], problem.why)
    return problem is None
