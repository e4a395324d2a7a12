"""Grain that was taken out and never came back, at the time a doe can least do without it."""

from __future__ import annotations

from typing import Any

from .context import Context, days_between
from .feed_classes import is_grain
from .off_feed_stage import stage_of
from .plan import grain_planned

LONGER_THAN_D = 1
FORGOTTEN_D = 21
PHASES = (6, 7, 8)


def frozen_out_word(ctx: Context, doe_id: str, phase: int) -> dict[str, Any] | None:
    """{"code", "args"} in close-up, kidding watch or fresh; by calendar alone where nothing was compiled.

    One day without grain is what a freeze is for. A freeze long past says nothing about today.
    """
    held = ctx.view["does"][doe_id]["freeze"]
    near = phase in PHASES if phase >= 0 else stage_of(ctx, doe_id) in ("last_weeks", "labour", "fresh")
    if not held or not near or held["since"] > ctx.day or not _had_grain(ctx, doe_id):
        return None
    if held["until"] < ctx.day and days_between(held["until"] or held["since"], ctx.day) > FORGOTTEN_D:
        return None
    since = held["out_on"] or held["since"]
    if days_between(since, ctx.day) <= LONGER_THAN_D or grain_planned(ctx, doe_id, ctx.day):
        return None
    return {"code": "frozen_out", "args": {"on": since, "days": days_between(since, ctx.day)}}


def _had_grain(ctx: Context, doe_id: str) -> bool:
    """Some of it stands in her plan, or the herd's rules would give her some by now."""
    own = (ration for ration in ctx.plans.get(doe_id, []) if is_grain(ctx.feed(ration["feed"])))
    steps = (ctx.outlooks.get(doe_id) or {"steps": []})["steps"]
    return any(g for ration in own for _, g in ration["steps"]) or any(step["on"] <= ctx.day for step in steps)
