"""Where her condition will be at kidding: her last score, carried along the week she had and the plan she has."""

from __future__ import annotations

from collections.abc import Iterator
from math import isqrt
from typing import Any

from .balance import eaten_on, enough_days, supply, window
from .branches import slot_for
from .context import Context, days_between, shift
from .needs import activity_pm, cold_pm, fcm_on, last_score, season_value
from .plan import has_plan
from .surety import Z80_PM, supply_doubt

FARTHEST_D = 60
STRETCH_D = 7
LEAST_X100, MOST_X100 = 100, 500
Ahead = tuple[dict[str, Any] | None, str]


def condition_ahead(ctx: Context, doe_id: str, result: dict[str, Any]) -> Ahead:
    """({"on", "x100", "lo", "hi", ...}, "") at her mid due date with an 80 % band, or (None, why not)."""
    if result["standing"] != "ok" or result["gest"] < 0 or not result["due"]:
        return None, "not_carrying"
    on = result["due"]["mid"]
    days, score, week = days_between(ctx.day, on), last_score(ctx, doe_id), window(ctx, doe_id, 7)
    worked = ctx.outlooks[doe_id]["drivers"].get("me_kj_per_point_lost")
    why = _why_not(ctx, days, score, week) if worked else "old_outlook"
    if why or score is None:
        return None, why
    balance = _balance(ctx, doe_id, days, score[0], week)
    if balance is None:
        return None, "feed_value"
    return _scored(ctx, doe_id, on, days, score, week, balance)


def _why_not(ctx: Context, days: int, score: tuple[int, int, int] | None, week: dict[str, Any]) -> str:
    if days <= 0:
        return "due"
    if days > FARTHEST_D:
        return "too_far"
    if score is None:
        return "no_score"
    if score[0] > ctx.rules["score_holds_d"]:
        return "old_score"
    return "few_days" if not week["days"] or not enough_days(ctx, week) else "feed_value" if week["extra"]["me"] else ""


def _balance(ctx: Context, doe_id: str, days: int, age_d: int, week: dict[str, Any]) -> tuple[int, int] | None:
    """(kJ over, kJ short) from her score to kidding; a week is taken as its middle day. None with a feed unknown."""
    usual = week["got"]["me"] // week["days"]
    over = short = 0
    for back, ahead in ((age_d, 0), (0, days)):
        for middle, n in _stretches(-back, ahead):
            on = shift(ctx.day, middle)
            got = _planned(ctx, doe_id, on) if middle > 0 and has_plan(ctx, doe_id, on) else usual
            if got is None:
                return None
            gap = (got - _body_need(ctx, doe_id, on)) * n
            over, short = over + max(0, gap), short + max(0, -gap)
    return over, short


def _stretches(first: int, last: int) -> Iterator[tuple[int, int]]:
    """(middle day, days) of the weeks after day `first` up to `last`, counted from today."""
    for start in range(first + 1, last + 1, STRETCH_D):
        n = min(STRETCH_D, last + 1 - start)
        yield start + n // 2, n


def _planned(ctx: Context, doe_id: str, on: str) -> int | None:
    got, extra = supply(ctx, eaten_on(ctx, doe_id, on, planned=True)["dm"])
    return None if extra["me"] else got["me"]


def _body_need(ctx: Context, doe_id: str, on: str) -> int:
    """Energy that would hold her as she is: need without what is to bring a thin doe back."""
    slot = slot_for(ctx, doe_id, on)
    if slot is None:
        return season_value(ctx, doe_id, on, "me_kj")
    branch, i = slot
    milk = fcm_on(ctx, doe_id, on) * ctx.outlooks[doe_id]["drivers"]["me_kj_per_kg_fcm"] // 1000
    abroad = branch["maint_kj"][i] * (activity_pm(ctx, doe_id, on) + cold_pm(ctx, on)) // 1000
    return int(branch["me_kj"][i] + milk + abroad)


def _scored(
    ctx: Context,
    doe_id: str,
    on: str,
    days: int,
    score: tuple[int, int, int],
    week: dict[str, Any],
    balance: tuple[int, int],
) -> Ahead:
    drivers = ctx.outlooks[doe_id]["drivers"]
    change = balance[0] // drivers["me_kj_per_point"] - balance[1] // drivers["me_kj_per_point_lost"]
    x100 = score[1] + change
    if not LEAST_X100 <= x100 <= MOST_X100:
        return None, "off_scale"
    # an error of feed, feeder or need lasts, so it grows with the days
    a_day = isqrt(supply_doubt(ctx, week) + week["need_sd"] ** 2) // week["days"]
    spreads = {
        "scorer": drivers["score_sd_x100"],
        "conversion": abs(change) * drivers["point_sd_pm"] // 1000,
        "balance": (days + score[0]) * a_day // drivers["me_kj_per_point"],
    }
    half = isqrt(sum(part * part for part in spreads.values())) * Z80_PM // 1000
    lo, hi = max(LEAST_X100, x100 - half), min(MOST_X100, x100 + half)
    found = {"on": on, "x100": x100, "lo": lo, "hi": hi, "from": score[1], "age_d": score[0]}
    return {**found, "over_kj": balance[0], "short_kj": balance[1], "spread": spreads}, ""
