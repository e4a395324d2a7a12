"""Refused entries, kept so that nothing somebody typed is gone; but nobody fills the disk with them.

What is not kept stays on the phone that sent it: refused all the same, with its reason, or, where a phone lets go of
what an owner decides about, not answered at all.
"""

from __future__ import annotations

from datetime import timedelta

from django.db.models import Count, Sum
from django.db.models.functions import Coalesce, Length

from herd.models import Membership, Quarantine

from .for_the_owner import FOR_THE_OWNER, room_for

DAY_MS = timedelta(days=1) // timedelta(milliseconds=1)
# What one person may add a day, over all farms: more than any barn sends home, and a small part of any disk.
MOST_ROWS, MOST_LETTERS = 2_000, 4_000_000
LONGEST = 100_000


def as_text(raw: bytes) -> str:
    """Bytes nobody can read are named."""
    return plain(raw.decode(errors="backslashreplace"))[:LONGEST]


def plain(text: str) -> str:
    """A database holds no NUL, and a reason may name a field by what somebody called it."""
    return text.replace("\0", "\\0")


def keep_refused(rows: list[Quarantine]) -> set[str]:
    """All of one sender on one farm. Returns the marks of those that are kept, now or since they came before."""
    if not rows:
        return set()
    farm = rows[0].farm
    marks = {row.sha256 for row in rows}
    here = dict(Quarantine.objects.filter(farm=farm, sha256__in=marks).values_list("sha256", "code"))
    new = {row.sha256: row for row in reversed(rows) if row.sha256 not in here}
    kept = _within_limits(list(reversed(new.values())))
    Quarantine.objects.bulk_create(kept, ignore_conflicts=True)
    for row in rows:
        if row.code in FOR_THE_OWNER and here.get(row.sha256, row.code) not in FOR_THE_OWNER:
            held = Quarantine.objects.filter(farm=farm, sha256=row.sha256, decided="")
            sent = {"sender": row.sender, "device": row.device, "offset_ms": row.offset_ms}
            held.update(code=row.code, why=row.why, **sent)
    return here.keys() | {row.sha256 for row in kept}


def _within_limits(rows: list[Quarantine]) -> list[Quarantine]:
    """Those over what is left for today, or for the owner's list, are let go, the last first."""
    if not rows:
        return []
    first = rows[0]
    since = first.received_ms - DAY_MS
    hers = Membership.everyone.filter(person_id=first.sender).values("farm_id")
    held = Quarantine.objects.filter(farm_id__in=hers, sender=first.sender, received_ms__gt=since)
    used = held.aggregate(rows=Count("pk"), letters=Coalesce(Sum(Length("raw")), 0))
    left_rows, left = MOST_ROWS - used["rows"], MOST_LETTERS - used["letters"]
    room = room_for(first.farm_id, first.sender) if any(row.code in FOR_THE_OWNER for row in rows) else 0
    kept: list[Quarantine] = []
    for row in rows[: max(0, left_rows)]:
        left -= len(row.raw)
        if left < 0:
            break
        room -= row.code in FOR_THE_OWNER
        if room >= 0 or row.code not in FOR_THE_OWNER:
            kept.append(row)
    return kept
