"""What no entry shows any more is let go after a month: long enough to take the taking back back."""

from __future__ import annotations

from collections.abc import Iterable

from herd.models import Blob, Event, Farm
from herd.state.fold import fold

from .clock import now_ms
from .set_aside import marks
from .wire import replay

KEPT_D = 30
DAY_MS = 86_400_000
KINDS = ("picture", "voice")


def sweep(farm: Farm) -> int:
    """Let go of pictures and recordings that nothing has shown for a month. Returns how many."""
    edge = now_ms() - KEPT_D * DAY_MS
    old = dict(Blob.objects.filter(farm=farm, received_ms__lt=edge).values_list("sha256", "pk"))
    if not old:
        return 0
    shown = _shown(farm, edge) | marks(farm)
    gone = [pk for sha, pk in old.items() if sha not in shown]
    return Blob.objects.filter(pk__in=gone).delete()[0]


def _shown(farm: Farm, edge: int) -> set[str]:
    """Marks an entry shows now, or showed until it was taken back less than a month ago."""
    log = Event.objects.filter(farm=farm)
    raws = list(log.filter(form__in=KINDS).values_list("raw", "eff", "received_ms", "kind"))
    counting = fold([replay(raw, eff) for raw, eff, at, kind in raws if kind in KINDS or at < edge])
    return {row["sha256"] for part in ("pictures", "voices") for row in counting[part]}


def sweep_all(farms: Iterable[Farm] | None = None) -> int:
    return sum(sweep(farm) for farm in (farms if farms is not None else Farm.objects.iterator()))
