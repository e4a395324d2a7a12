"""The farm's epoch: phones that see another one know that the server lost entries, and offer theirs again."""

from __future__ import annotations

import time

from django.db import transaction

from herd.models import Audit, Farm


def next_epoch(old: int) -> int:
    """Seconds of the clock, so that restoring one backup twice gives two epochs."""
    return max(old + 1, int(time.time()))


@transaction.atomic
def start_new_epoch(farm_id: str, why: str) -> int:
    farm = Farm.objects.select_for_update().get(pk=farm_id)
    farm.epoch = next_epoch(farm.epoch)
    farm.save(update_fields=["epoch"])
    Audit.objects.create(farm=farm, what="new_epoch", detail=why)
    return farm.epoch
