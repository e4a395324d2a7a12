"""Everything a doe's explanation takes apart, as one value that both twins can print."""

from __future__ import annotations

from typing import Any

from herd.outlook.balance import eaten_on
from herd.outlook.branches import standing
from herd.outlook.context import NUTRIENTS, Context
from herd.outlook.doubts import doubts
from herd.outlook.needs import need_on
from herd.outlook.terms import feed_parts, need_terms, told_day, week_days


def why(ctx: Context, doe_id: str) -> dict[str, Any] | None:
    """None for a doe whose outlook gives no amounts."""
    if standing(ctx, doe_id) != "ok":
        return None
    on, planned = told_day(ctx, doe_id)
    dm_g = sum(eaten_on(ctx, doe_id, on, planned)["dm"].values())
    return {
        "day": [on, planned],
        "need": need_on(ctx, doe_id, on, dm_g),
        "terms": {key: need_terms(ctx, doe_id, on, key, dm_g) for key in NUTRIENTS},
        "feeds": {key: feed_parts(ctx, doe_id, on, planned, key) for key in NUTRIENTS},
        "week": {key: week_days(ctx, doe_id, key) for key in NUTRIENTS},
        "doubts": doubts(ctx, doe_id),
    }
