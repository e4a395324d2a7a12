"""Whether a scoop or flake still holds what somebody weighed: an amount must not go up by a measure nobody can trust.

The client's twin is frontend/src/core/outlook/measures.ts. "Weigh again after a new bag, a new lot, or four months" is common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

from .context import Context, days_between, shift

WEIGH_AGAIN_D = 120


def old_since(ctx: Context, feed: str) -> str:
    """The day a feed's last weight went old; "" while one stands, or where none was ever made."""
    found = list(_measures(ctx, feed))
    return "" if "" in found else max(found, default="")


def _measures(ctx: Context, feed: str) -> Iterator[str]:
    """For each scoop or flake weighed for a feed, the day it went old, "" while it stands."""
    lot = ctx.view["lots"].get(feed)
    parent = lot["f"].get("feed") if lot else ""
    feeds = [feed, parent] if isinstance(parent, str) and parent else [feed]
    for scoop in ctx.view["scoops"].values():
        if scoop["f"].get("gone") is not True and scoop["f"].get("feed") in feeds:
            last = _last(ctx, scoop["id"], "scoop", feeds)
            if last:
                yield _went_old(ctx, feeds, last["on"], last["happened"], _opened(ctx, feeds, last["on"]))
    if lot:
        yield from _flake(ctx, lot)


def _flake(ctx: Context, lot: dict[str, Any]) -> Iterator[str]:
    """Weighed, or as typed into the lot's record, which counts as weighed when it was typed."""
    last, g = _last(ctx, lot["id"], "flake", [lot["id"]]), lot["f"].get("flake_g")
    if last:
        yield _went_old(ctx, [lot["id"]], last["on"], last["happened"], _opened(ctx, [lot["id"]], last["on"]))
    elif isinstance(g, int) and g > 0:
        typed, opened = (_written(lot, name) for name in ("flake_g", "opened_on"))
        yield _went_old(ctx, [lot["id"]], _day(typed), typed, [_day(opened)] if opened > typed else [])


def _last(ctx: Context, measure: str, of: str, feeds: list[str]) -> dict[str, Any] | None:
    """The last weighing of one scoop or lot that was of these feeds; None where its mean comes to nothing."""
    rows = ctx.view["calibrations"].get(measure, [])
    found = [row for row in rows if row["of"] == of and (row["lot"] == "" or row["lot"] in feeds)]
    fills = found[-1]["fills_g"] if found else []
    return found[-1] if fills and 2 * sum(fills) >= len(fills) else None


def _went_old(ctx: Context, feeds: list[str], on: str, happened: int, opened: list[str]) -> str:
    bags = [bag["on"] for feed in feeds for bag in ctx.view["bags"].get(feed, []) if bag["happened"] > happened]
    keep_d = ctx.rules.get("weigh_again_d", WEIGH_AGAIN_D)
    aged = [shift(on, keep_d + 1)] if days_between(on, ctx.day) > keep_d else []
    return min([*bags, *opened, *aged], default="")


def _opened(ctx: Context, feeds: list[str], after: str) -> list[str]:
    days = [str(ctx.view["lots"][feed]["f"].get("opened_on") or "") for feed in feeds if feed in ctx.view["lots"]]
    return [day for day in days if day > after]


def _written(lot: dict[str, Any], name: str) -> int:
    return int(lot["stamp"].get(name, "")[:12] or "0", 16)


def _day(ms: int) -> str:
    return datetime.fromtimestamp(ms / 1000, UTC).date().isoformat()
