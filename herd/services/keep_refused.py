"""Refused entries, kept so that nothing somebody typed is gone; but nobody fills the disk with them.

What is not kept is refused all the same, with its reason, and stays on the phone that sent it.
"""

from __future__ import annotations

from datetime import timedelta

from django.db.models import Count, Sum
from django.db.models.functions import Coalesce, Length

from herd.models import Membership, Quarantine

DAY_MS = timedelta(days=1) // timedelta(milliseconds=1)
# What one person may add a day, over all farms: more than any barn sends home, and a small part of any disk.
MOST_ROWS, MOST_LETTERS = 1_000, 4_000_000
LONGEST = 100_000


def as_text(raw: bytes) -> str:
    """Bytes nobody can read are named."""
    return plain(raw.decode(errors="backslashreplace"))[:LONGEST]


def plain(text: str) -> str:
    """A database holds no NUL, and a reason may name a field by what somebody called it."""
    return text.replace("\0", "\\0")


def keep_refused(rows: list[Quarantine]) -> None:
    """All of one sender. Those over what is left for today are let go, the last first."""
    if not rows:
        return
    first = rows[0]
    since = first.received_ms - DAY_MS
    hers = Membership.objects.filter(person_id=first.sender).values("farm_id")
    held = Quarantine.objects.filter(farm_id__in=hers, sender=first.sender, received_ms__gt=since)
    used = held.aggregate(rows=Count("pk"), letters=Coalesce(Sum(Length("raw")), 0))
    left_rows, left = MOST_ROWS - used["rows"], MOST_LETTERS - used["letters"]
    kept: list[Quarantine] = []
    for row in rows[: max(0, left_rows)]:
        left -= len(row.raw)
        if left < 0:
            break
        kept.append(row)
    Quarantine.objects.bulk_create(kept, ignore_conflicts=True)
