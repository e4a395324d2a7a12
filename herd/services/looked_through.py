"""A farm's log looked through once a day for what no new phone needs."""

from __future__ import annotations

from django.db import transaction

from herd.models import Event, Farm
from herd.models.event import OK
from herd.state.kinds import CHAINS, RECORDS

from .bootstrap import since_stamp, snapshot
from .clock import day_of, now_ms
from .moment import one_moment

MAY_GO = (*RECORDS, "ration", *CHAINS)


def let_go_daily(farm_id: str) -> None:
    farm = Farm.objects.get(pk=farm_id)
    today = day_of(now_ms(), farm.zone).isoformat()
    if farm.let_go_on < today and let_go(farm_id):
        Farm.objects.filter(pk=farm_id).update(let_go_on=today)


def let_go(farm_id: str) -> bool:
    """False when somebody recorded meanwhile: then it is done another time."""
    with one_moment():
        farm = Farm.objects.get(pk=farm_id)
        kept = {one.seq for one in snapshot(farm)}
        rows = Event.objects.filter(farm=farm, kind__in=MAY_GO, let_go=False, fold_status=OK, hlc__lt=since_stamp())
        gone = [seq for seq in rows.values_list("seq", flat=True) if seq not in kept]
    with transaction.atomic():
        now = Farm.objects.select_for_update().get(pk=farm_id)
        same = (now.seq, now.epoch) == (farm.seq, farm.epoch)
        for first in range(0, len(gone) if same else 0, 500):
            Event.objects.filter(farm=now, seq__in=gone[first : first + 500]).update(let_go=True)
    return same
