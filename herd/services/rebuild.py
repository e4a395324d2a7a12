"""Everything folded, made again from the log: after an upgrade, a restore, or a doubt."""

from __future__ import annotations

import logging

from django.db import transaction
from django.db.models import Q

from herd.models import Event, Farm, ShortList
from herd.models.event import PARKED
from herd.models.farm import HELPER
from herd.state.envelope import problem_of
from herd.state.kinds import known

from .due import FIELDS, set_due
from .recompile import recompile
from .refold import rebuild as refold_all
from .standing import JUDGED, TELLING
from .waiting import ROW, settle, take_up
from .wire import as_object

log = logging.getLogger(__name__)
BATCH = 500


def rebuild(farm_id: str) -> int:
    """Fold the whole farm again, let in what this build can read by now, compile. Returns changed documents."""
    fold_again(farm_id)
    return recompile(farm_id)


@transaction.atomic
def fold_again(farm_id: str) -> None:
    """All of it but the outlooks, which are due from now."""
    farm = Farm.objects.select_for_update().get(pk=farm_id)
    ShortList.objects.filter(farm=farm).delete()
    refold_all(farm)
    settle(farm, set(), set(), _helped(farm_id))
    _read_again(farm)
    set_due(farm)
    farm.save(update_fields=["outlook_rev", *FIELDS])


def _helped(farm_id: str) -> set[str]:
    rows = Event.objects.filter(Q(role=HELPER) | Q(kind="pack"), farm_id=farm_id, form__in=JUDGED)
    return set(rows.values_list("subject", flat=True))


def _read_again(farm: Farm) -> None:
    """Kinds that were unknown when they came. They are judged as on the day of arrival, only later."""
    parked = Event.objects.filter(farm=farm, fold_status=PARKED, waits_for="").order_by("seq")
    seqs = [seq for seq, raw in parked.values_list("seq", "raw") if _readable(raw)]
    for first in range(0, len(seqs), BATCH):
        rows = Event.objects.filter(farm=farm, seq__in=seqs[first : first + BATCH]).order_by("seq")
        taken = take_up(farm, list(rows.values(*ROW)))
        settle(farm, {subject for _, subject, _ in taken.entered}, taken.ids, taken.about(TELLING))


def _readable(raw: str) -> bool:
    event = as_object(raw.encode())
    if not known(event.get("kind"), event.get("v")):
        return False
    problem = problem_of(event)
    if problem:
        log.warning("A parked entry is not possible in the form now known: %s %s", event["id"], problem.why)
    return problem is None
