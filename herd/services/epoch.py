"""The farm's epoch: phones that see another one know that the server lost entries, and offer theirs again."""

from __future__ import annotations

import time
from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from herd.models import Audit, Farm

from .audit import audit

NEW_EPOCH = "new_epoch"


def next_epoch(old: int) -> int:
    """Seconds of the clock, so that restoring one backup twice gives two epochs."""
    return max(old + 1, int(time.time()))


@transaction.atomic
def start_new_epoch(farm_id: str, why: str, seen: int | None = None) -> int:
    """`seen`: the epoch whoever asks for another one has seen; two that ask at once get the same."""
    farm = Farm.objects.select_for_update().get(pk=farm_id)
    if seen not in (None, farm.epoch):
        return farm.epoch
    farm.epoch = next_epoch(farm.epoch)
    farm.save(update_fields=["epoch"])
    audit(farm, None, NEW_EPOCH, why)
    return farm.epoch


def new_epochs_of_today(farm_id: str) -> int:
    since = timezone.now() - timedelta(days=1)
    return Audit.objects.filter(farm_id=farm_id, at__gte=since, what=NEW_EPOCH).count()
