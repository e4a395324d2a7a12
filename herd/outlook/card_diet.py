"""What the herd ate a day, over the last week: dry matter by feed, less the feeder's waste and what was left."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from herd.state.doe_state import pen_on

from .context import SLOTS, Context, shift
from .feed_classes import CONCENTRATE
from .sharing import confirmed_lines, dry_g, left_of, waste_pm

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


def diet_of(ctx: Context) -> Diet:
    """The herd's average day over the seven days before today: today is not over yet."""
    total: dict[str, int] = {}
    undried: set[str] = set()
    days = 0
    for back in range(1, WEEK_D + 1):
        eaten = list(_day(ctx, shift(ctx.day, -back)))
        days += bool(eaten)
        for feed_id, dry, known in eaten:
            if known:
                total[feed_id] = total.get(feed_id, 0) + dry
            else:
                undried.add(feed_id)
    feeds = {feed_id: g // days for feed_id, g in sorted(total.items()) if g // days > 0} if days else {}
    grain = sum(g for feed_id, g in feeds.items() if (ctx.feed(feed_id) or {}).get("class") in CONCENTRATE)
    whole = sum(feeds.values())
    does = sum(1 for doe in ctx.view["does"].values() if not doe["left_on"])
    return Diet(days, does, feeds, tuple(sorted(undried)), grain * 1000 // whole if whole else 0)


def _day(ctx: Context, on: str) -> Iterator[tuple[str, int, bool]]:
    """(feed, grams of dry matter eaten, whether its dry matter is known) of every pen, and of does in none."""
    loose = [doe_id for doe_id in sorted(ctx.view["does"]) if ctx.here(doe_id) and not _penned(ctx, doe_id, on)]
    for pen in (*sorted(ctx.view["pens"]), *loose):
        does = ctx.pen_mates(pen, on)
        for slot in SLOTS:
            least, _ = confirmed_lines(ctx, pen, does, on, slot)
            for target in sorted(least):
                yield from (_eaten(ctx, pen, target, on, slot, feed, g) for feed, g in least[target] if g > 0)


def _penned(ctx: Context, doe_id: str, on: str) -> bool:
    return pen_on(ctx.view["does"][doe_id], on) in ctx.view["pens"]


def _eaten(ctx: Context, pen: str, target: str, on: str, slot: str, feed_id: str, g: int) -> tuple[str, int, bool]:
    feed: dict[str, Any] | None = ctx.feed(feed_id)
    if not feed or not feed["dm_pm"]:
        return feed_id, 0, False
    wasted = 0 if target else waste_pm(ctx, pen, feed_id)
    left = left_of(ctx, target or pen, on, slot, feed_id)
    return feed_id, dry_g(ctx, feed_id, g) * (1000 - wasted) // 1000 * (1000 - left) // 1000, True
