"""The daily tap: a doe near kidding that gets no grain leaves nothing to read, so somebody has to look at her."""

from __future__ import annotations

from .branches import is_buck
from .context import SLOTS, Context, days_between
from .plan import grain_planned

LAST_WEEKS_D = 42
CALENDAR_D = {"mini": 105, "standard": 108}


def wants_tap(ctx: Context, doe_id: str, due: dict[str, str] | None) -> bool:
    """True in her last six weeks while her plan of the day holds no grain.

    Parameters
    ----------
    due : her due dates when they were compiled for the state she is in; without them the calendar alone counts
    """
    doe = ctx.view["does"][doe_id]
    if not doe["bred"] or is_buck(doe):
        return False
    if due:
        near = days_between(ctx.day, due["early"]) <= ctx.rules.get("daily_from_d", LAST_WEEKS_D)
    else:
        size = "mini" if doe["f"].get("size") == "mini" else "standard"
        near = days_between(doe["bred"]["from"], ctx.day) >= CALENDAR_D[size]
    return near and not grain_planned(ctx, doe_id, ctx.day)


def tapped(ctx: Context, doe_id: str) -> list[str]:
    """Slots of the day in which somebody said how she was."""
    said = {intake["slot"] for intake in ctx.intakes.get(ctx.day, []) if intake["subject"] == doe_id}
    return [slot for slot in ("", *SLOTS) if slot in said]
