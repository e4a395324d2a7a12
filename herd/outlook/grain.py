"""Grain limits and steps, counted in dry-grain equivalent, and the rule against a true cut late in pregnancy."""

from __future__ import annotations

from typing import Any

from .balance import confirmed, day_sums, eaten_on, gestation_on, permille
from .context import Context, days_between, shift
from .fitted import fitted
from .freeze import freeze_on
from .needs import milk_on

LOOK_D = 10
CUT_D = 7


def grain_word(ctx: Context, doe_id: str) -> dict[str, Any] | None:
    """The most pressing grain prompt: {"code", "args"}, or None."""
    limits = ctx.outlooks[doe_id]["limits"]
    today = _most(ctx, doe_id)
    milking = milk_on(ctx, doe_id, ctx.day) > 0
    day_limit = limits["milk_grain_day_g" if milking else "grain_day_g"]
    if today["meal_g"] > limits["grain_meal_g"]:
        return _say("grain_meal_big", g=today["meal_g"], limit=limits["grain_meal_g"])
    if today["day_g"] > day_limit:
        return _say("grain_day_big", g=today["day_g"], limit=day_limit)
    jump = _fed_jump(ctx, doe_id)
    if jump > limits["step_g"]:
        return _say("step_big", g=jump, limit=limits["step_g"])
    return _planned_jump(ctx, doe_id, limits)


def _say(code: str, **args: Any) -> dict[str, Any]:
    return {"code": code, "args": args}


def _most(ctx: Context, doe_id: str) -> dict[str, int]:
    days = [eaten_on(ctx, doe_id, shift(ctx.day, -back)) for back in (0, 1)]
    return {key: max(day[key] for day in days) for key in ("meal_g", "day_g")}


def _fed_jump(ctx: Context, doe_id: str) -> int:
    """Rise of the latest confirmed day over the most of the three days before; 0 unless those are confirmed."""
    back = 0 if confirmed(ctx, doe_id, ctx.day) else 1
    before = [shift(ctx.day, -back - k) for k in (1, 2, 3)]
    if not all(confirmed(ctx, doe_id, on) for on in before):
        return 0
    usual = max(eaten_on(ctx, doe_id, on)["day_g"] for on in before)
    return int(eaten_on(ctx, doe_id, shift(ctx.day, -back))["day_g"] - usual)


def _planned_jump(ctx: Context, doe_id: str, limits: dict[str, int]) -> dict[str, Any] | None:
    days = [eaten_on(ctx, doe_id, shift(ctx.day, k), planned=True)["day_g"] for k in range(LOOK_D + 1)]
    last_rise = -limits["step_days"]
    for k in range(1, LOOK_D + 1):
        rise = days[k] - days[k - 1]
        if rise > limits["step_g"]:
            return _say("step_planned_big", g=rise, limit=limits["step_g"], on=shift(ctx.day, k))
        if rise > 0 and k - last_rise < limits["step_days"]:
            args = {"days": limits["step_days"], "on": shift(ctx.day, k)}
            return _say("steps_too_fast", **args)
        last_rise = k if rise > 0 else last_rise
    return None


def late_cut(ctx: Context, doe_id: str, week: dict[str, Any]) -> dict[str, Any] | None:
    """After the late day the plan must not fall relative to need; a dry-off, where both come down, passes.

    Nor is it a cut where hay beyond her appetite is trimmed: what she can eat of the plan has to fall with it.
    """
    if not week["days"] or gestation_on(ctx, doe_id, shift(ctx.day, 1)) < ctx.rules["late_day"]:
        return None
    now = week["offered_me"] // week["days"]
    ratio = permille(week["offered_me"], week["need"]["me"])
    eaten = permille(week["got"]["me"], week["appetite_g"])
    for k in range(1, CUT_D + 1):
        on = shift(ctx.day, k)
        sums = day_sums(ctx, doe_id, on, True)
        # grain held or out because she left it is no cut of the plan
        if not sums or not sums["offered_me"] or freeze_on(ctx, doe_id, on):
            continue
        less = sums["offered_me"] * 1000 < now * (1000 - ctx.rules["cut_pm"])
        falls = permille(sums["offered_me"], sums["need"]["me"]) * 1000 < ratio * (1000 - ctx.rules["level_pm"])
        then = permille(sums["got"]["me"], sums["appetite_g"])
        if less and falls and then * 1000 < eaten * (1000 - fitted(ctx, "cut_eaten_pm")):
            return _say("net_cut_late", on=on, days=days_between(ctx.day, on))
    return None
