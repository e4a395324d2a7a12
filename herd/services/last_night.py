"""Which lasting entries a new phone needs, as found last night: its start reads those and what came since.

A short cut and no more. Wherever something since reaches back to what was left out, the whole log is gone through.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Q

from herd.models import Event, Farm, Ruling, ShortList
from herd.models.event import OK, PARKED
from herd.state.kinds import KINDS, SEEN

from .versions import app_version

LASTING = tuple(kind for kind in KINDS if kind not in SEEN)


@dataclass(frozen=True, slots=True)
class LastNight:
    seq: int
    kept: list[int]

    def lasting(self) -> Q:
        return Q(seq__in=self.kept) | Q(seq__gt=self.seq)

    def holds(self, links: Iterable[tuple[int, str]], kinds: dict[str, str]) -> bool:
        """What came since takes back or puts right nothing but looks that are on the list. `links`: place and target;
        `kinds`: of whatever is on it. A record or a ration that is named needs what it stood on, which was left out."""
        return all(kinds.get(of) in SEEN for seq, of in links if seq > self.seq)


def last_night(farm: Farm) -> LastNight | None:
    """None where there is none that holds: another history, another build, an entry that counts otherwise than then."""
    row = ShortList.objects.filter(farm=farm, epoch=farm.epoch, build=app_version(), seq__lte=farm.seq).first()
    # Of what came since, what counts is read as it stands now.
    if row is None or Ruling.objects.filter(farm=farm, rev__gt=row.rev, seq__lte=row.seq).exists():
        return None
    parked, log = json.loads(row.parked), Event.objects.filter(farm=farm)
    if log.filter(seq__in=parked, fold_status=PARKED).count() < len(parked):
        return None
    if log.filter(seq__gt=row.seq, kind__in=LASTING, hlc__lt=row.since).exists():
        return None
    return LastNight(row.seq, json.loads(row.kept))


def put_down(farm: Farm, since: str, found: Iterable[tuple[int, str, str]]) -> None:
    """`found`: place, kind and status of each entry of the whole list."""
    rows = [(seq, status) for seq, kind, status in found if kind not in SEEN]
    kept, parked = ([seq for seq, status in rows if status == wanted] for wanted in (OK, PARKED))
    facts = {"epoch": farm.epoch, "build": app_version(), "seq": farm.seq, "rev": farm.outlook_rev, "since": since}
    lists = {"kept": json.dumps(sorted(kept + parked)), "parked": json.dumps(sorted(parked))}
    ShortList.objects.update_or_create(farm=farm, defaults={**facts, **lists})
