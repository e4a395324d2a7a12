"""How much one person may record a day, on one farm, of kinds and versions this server cannot read yet.

All of it goes to every new phone, which may be able to read it, and stays on the short list until the server learns to:
a phone that is a version ahead for weeks sends less, and what is beyond it waits there.
"""

from __future__ import annotations

from django.db.models import Sum
from django.db.models.functions import Coalesce, Length

from herd.models import Event
from herd.models.event import PARKED
from herd.state.payloads import Problem

from .keep_refused import DAY_MS

MOST_BYTES = 500_000
# A phone keeps it waiting, and sends it again.
UPDATE = Problem("update", "kind", "The server cannot read this yet, and has a day's worth of it: update the server.")


class Quota:
    """Of the authors of one batch; the farm row is locked meanwhile."""

    def __init__(self, farm_id: str, now: int) -> None:
        self.farm_id, self.since = farm_id, now - DAY_MS
        self.left: dict[str, int] = {}

    def takes(self, author: str, raw: bytes) -> bool:
        if author not in self.left:
            self.left[author] = MOST_BYTES - self._used(author)
        fits = len(raw) <= self.left[author]
        self.left[author] -= len(raw) if fits else 0
        return fits

    def _used(self, author: str) -> int:
        parked = Event.objects.filter(farm_id=self.farm_id, fold_status=PARKED, waits_for="")
        hers = parked.filter(author=author, received_ms__gt=self.since)
        return int(hers.aggregate(used=Coalesce(Sum(Length("raw")), 0))["used"])
