"""The manger line of one doe: energy eaten against energy needed, day by day, behind and ahead."""

from __future__ import annotations

from typing import Any

from .balance import confirmed, day_sums, eaten_on, supply
from .branches import slot_for
from .context import Context, shift
from .needs import season_value


def manger_line(ctx: Context, doe_id: str, back_d: int, ahead_d: int) -> list[list[Any]]:
    """[[date, kJ eaten or -1 when not confirmed, kJ needed, floor kJ or 0]]; days after today follow the plan."""
    return [_day(ctx, doe_id, shift(ctx.day, k)) for k in range(-back_d, ahead_d + 1)]


def _day(ctx: Context, doe_id: str, on: str) -> list[Any]:
    planned = on > ctx.day
    known = planned or confirmed(ctx, doe_id, on)
    slot = slot_for(ctx, doe_id, on)
    if slot is None:
        got = supply(ctx, eaten_on(ctx, doe_id, on, planned)["dm"])[0]["me"] if known else -1
        need = season_value(ctx, doe_id, on, "me_kj")
        return [on, got if need else -1, need, season_value(ctx, doe_id, on, "floor_me_kj")]
    sums = day_sums(ctx, doe_id, on, planned)
    need = sums["need"]["me"] if sums else 0
    return [on, sums["got"]["me"] if sums and known else -1, need, slot[0]["floor_me_kj"][slot[1]]]
