"""Entries no new phone needs any more, marked so that its start does not read them again: the short list only
grows shorter. What reaches back behind that puts all about its subject on again, to be looked through anew."""

from __future__ import annotations

from herd.models import Event
from herd.state.kinds import CHAINS, SEEN

from .bootstrap import since_stamp


def reaches_back(kind: str, hlc: str) -> bool:
    """What names another entry, or was written before all that is kept whole."""
    return kind in CHAINS or (kind not in SEEN and hlc < since_stamp())


def keep_again(farm_id: str, subjects: set[str]) -> None:
    """The farm row must be locked."""
    if subjects:
        Event.objects.filter(farm_id=farm_id, subject__in=subjects, let_go=True).update(let_go=False)
