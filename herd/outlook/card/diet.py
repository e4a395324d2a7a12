"""What the herd ate a day, over the last week: dry matter by feed, less the feeder's waste and what was left."""

from __future__ import annotations

from dataclasses import dataclass

from ..days import shift
from ..evaluate import FarmDay
from ..tables import CODES

WEEK_D = 7


@dataclass(frozen=True)
class Diet:
    """Grams of dry matter a day by feed, over the days of the week on which anything was fed; feeds of unknown dry
    matter by name."""

    days: int
    does: int
    feeds: dict[str, int]
    undried: tuple[str, ...]
    grain_pm: int

    @property
    def dm_g(self) -> int:
        """Dry matter of the whole herd [g/d]."""
        return sum(self.feeds.values())


def diet_of(farm: FarmDay) -> Diet:
    """The herd's average day over the seven days before today: today is not over yet."""
    total: dict[str, int] = {}
    undried: set[str] = set()
    days = 0
    for back in range(1, WEEK_D + 1):
        eaten = farm.ask("herd_ate", shift(farm.day, -back))
        days += bool(eaten)
        for feed_id, dm_g in eaten:
            if dm_g is None:
                undried.add(feed_id)
            else:
                total[feed_id] = total.get(feed_id, 0) + dm_g
    feeds = {feed_id: g // days for feed_id, g in sorted(total.items()) if g // days > 0} if days else {}
    grain = sum(g for feed_id, g in feeds.items() if farm.feed(feed_id).get("class") in CODES["concentrate"])
    whole = sum(feeds.values())
    does = sum(1 for doe in farm.view["does"].values() if not doe["left_on"])
    return Diet(days, does, feeds, tuple(sorted(undried)), grain * 1000 // whole if whole else 0)
