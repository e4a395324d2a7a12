"""Refused entries an owner decides about: of people who were on the farm no more when they came, and what was brought
in a file of somebody who has not signed in there."""

from __future__ import annotations

from django.db.models import Exists, OuterRef, QuerySet

from herd.models import Event, Quarantine
from herd.models.event import REFUSED

from .authors import CARRIED, REMOVED

FOR_THE_OWNER = (REMOVED.code, CARRIED.code)
# Of one sender: a year of a busy helper. More of them wait on the phone until an owner has decided about some.
MOST_WAITING = 2000


def waiting(farm_id: str) -> QuerySet[Quarantine]:
    """What its author has sent by now, and counts, needs nobody any more."""
    same = Event.objects.filter(farm_id=farm_id, id=OuterRef("event_id"), sha256=OuterRef("sha256"))
    undecided = Quarantine.objects.filter(farm_id=farm_id, code__in=FOR_THE_OWNER, decided="")
    return undecided.exclude(Exists(same.exclude(fold_status=REFUSED)))


def room_for(farm_id: str, sender: str) -> int:
    return max(0, MOST_WAITING - waiting(farm_id).filter(sender=sender).count())
