"""How far the workers are behind, in two questions to an index."""

from __future__ import annotations

from herd.models import Farm, WorkerSeen

from .clock import now_ms

ALIVE_MS = 60_000


def backlog_ms(now: int | None = None) -> int:
    """How long the longest waiting farm has been due; 0 where no worker lives: waiting would make nothing better."""
    now = now or now_ms()
    since = Farm.objects.filter(work_at_ms__lte=now).order_by("work_at_ms").values_list("work_at_ms", flat=True).first()
    # Before a worker has seen a new farm its instant is 0: as old as nothing.
    if not since or not WorkerSeen.objects.filter(seen_at_ms__gte=now - ALIVE_MS).exists():
        return 0
    return now - since
