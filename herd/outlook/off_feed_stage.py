"""The stage that says how much a left meal means: by compiled phase and dates, by the calendar where there are none."""

from __future__ import annotations

from typing import Any

from .balance import gestation_on
from .branches import FRESH, GROWING, IN_MILK, WATCH, is_buck, slot_for
from .context import Context, days_between

LAST_WEEKS_D = 28
LATE_DAY = 100
PEAK_D = 70
FRESH_D = 21
CALENDAR_LAST_WEEKS_D = 115
YOUNG_D = 730


def stage_of(ctx: Context, doe_id: str) -> str:
    """ "labour", "last_weeks", "late", "early", "fresh", "peak", "milk", "open", "doeling" or "buck"."""
    doe = ctx.view["does"][doe_id]
    if is_buck(doe):
        return "buck"
    slot = slot_for(ctx, doe_id, ctx.day)
    if slot is None:
        return _by_calendar(ctx, doe)
    phase = slot[0]["phase"][slot[1]]
    if phase == WATCH:
        return "labour"
    gest = gestation_on(ctx, doe_id, ctx.day)
    if gest >= 0 and phase not in (FRESH, IN_MILK):
        due = ctx.outlooks[doe_id]["due"]
        if days_between(ctx.day, due["early"]) <= LAST_WEEKS_D:
            return "last_weeks"
        return "late" if gest >= ctx.rules.get("late_day", LATE_DAY) else "early"
    return {FRESH: "fresh", IN_MILK: _in_milk(ctx, doe), GROWING: "doeling"}.get(phase, "open")


def _in_milk(ctx: Context, doe: dict[str, Any]) -> str:
    """The first ten weeks draw calcium as nothing later does."""
    return "peak" if doe["kidded"] and days_between(doe["kidded"]["on"], ctx.day) <= PEAK_D else "milk"


def _by_calendar(ctx: Context, doe: dict[str, Any]) -> str:
    """On the careful side: a bred doe counts as near her time from day 115."""
    if doe["bred"]:
        day = days_between(doe["bred"]["from"], ctx.day)
        return "last_weeks" if day >= CALENDAR_LAST_WEEKS_D else "late" if day >= LATE_DAY else "early"
    if doe["kidded"] and days_between(doe["kidded"]["on"], ctx.day) <= FRESH_D:
        return "fresh"
    if doe["kidded"]:
        return "open" if doe["dried_on"] else _in_milk(ctx, doe)
    return "doeling" if _young(ctx, doe["f"]) else "open"


def _young(ctx: Context, f: dict[str, Any]) -> bool:
    born, kidded = f.get("born_on"), f.get("kiddings_before")
    if kidded:
        return False
    return f.get("growing") is True or (bool(born) and days_between(str(born), ctx.day) < YOUNG_D)
