"""Grain held as it is while a doe is off her feed: planned raises do not come, and what is out stays out."""

from __future__ import annotations

from typing import Any

from herd.state.rations import amount_on

from .context import Context, days_between
from .feed_classes import is_grain


def freeze_on(ctx: Context, doe_id: str, on: str) -> dict[str, Any] | None:
    """The freeze that holds for a doe on a date, or None."""
    doe = ctx.view["does"].get(doe_id)
    held = doe["freeze"] if doe else None
    return held if held and held["since"] <= on <= held["until"] else None


def out_on(held: dict[str, Any], on: str) -> bool:
    """Whether she gets no grain at all on a date of the freeze."""
    return bool(held["grain_out"]) and bool(held["out_on"] <= on)


def held_amount(ctx: Context, ration: dict[str, Any], on: str, g: int) -> int:
    """Grams of a ration line on a date: grain no more than on the day the freeze began, none while it is out."""
    held = freeze_on(ctx, ration["subject"], on)
    if not held or not is_grain(ctx.feed(ration["feed"])):
        return g
    return 0 if out_on(held, on) else min(g, amount_on(ration["steps"], held["since"]))


def freeze_of(ctx: Context, doe_id: str) -> dict[str, Any] | None:
    """{"since", "until", "grain_out", "author", "days_left"} of the freeze that holds today, or None."""
    held = freeze_on(ctx, doe_id, ctx.day)
    if not held:
        return None
    kept = {name: held[name] for name in ("since", "until", "grain_out", "author")}
    return {**kept, "days_left": days_between(ctx.day, held["until"])}
