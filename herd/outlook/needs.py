"""Milk, appetite and need of one doe on one date: compiled numbers joined by the outlook's linear drivers."""

from __future__ import annotations

from math import isqrt
from typing import Any

from herd.state.doe_state import pen_on

from .branches import is_buck, slot_for
from .context import Context, days_between

RECENT_MILK_DAYS = 10


def milk_on(ctx: Context, doe_id: str, on: str) -> int:
    """Grams of milk: weighed that day, or the last weighing carried along her expected curve, or the curve itself."""
    key = f"milk|{doe_id}|{on}"
    if key not in ctx.memo:
        ctx.memo[key] = _milk_on(ctx, doe_id, on)
    return int(ctx.memo[key])


def _milk_on(ctx: Context, doe_id: str, on: str) -> int:
    slot = slot_for(ctx, doe_id, on)
    expected = slot[0]["milk_g"][slot[1]] if slot else 0
    if not expected:
        return 0
    weighed = milk_days(ctx, doe_id)
    near = [day for day in weighed if day <= on and days_between(day, on) <= RECENT_MILK_DAYS]
    if not near:
        return int(expected)
    then = slot_for(ctx, doe_id, near[-1])
    expected_then = then[0]["milk_g"][then[1]] if then else 0
    return int(weighed[near[-1]] * expected // expected_then) if expected_then else int(weighed[near[-1]])


def milk_days(ctx: Context, doe_id: str) -> dict[str, int]:
    """{date: grams} of weighed days; today counts only once it has as many milkings as the day before."""
    key = f"weighed|{doe_id}"
    if key not in ctx.memo:
        ctx.memo[key] = _milk_days(ctx, doe_id)
    return dict(ctx.memo[key])


def _milk_days(ctx: Context, doe_id: str) -> dict[str, int]:
    days: dict[str, list[int]] = {}
    for row in ctx.view["does"][doe_id]["milks"]:
        if row[0] <= ctx.day:
            days.setdefault(row[0], []).append(row[1])
    past = [day for day in sorted(days) if day < ctx.day]
    if ctx.day in days and past and len(days[ctx.day]) < len(days[past[-1]]):
        del days[ctx.day]
    return {day: sum(days[day]) for day in sorted(days)}


def fcm_on(ctx: Context, doe_id: str, on: str) -> int:
    """Grams of fat-corrected milk."""
    return int(milk_on(ctx, doe_id, on) * ctx.outlooks[doe_id]["drivers"]["fcm_pm"] // 1000)


def appetite_on(ctx: Context, doe_id: str, on: str) -> int:
    """Grams of dry matter she can be expected to eat: branch, else the season's own history, else 0."""
    slot = slot_for(ctx, doe_id, on)
    if slot is None:
        return season_value(ctx, doe_id, on, "appetite_g")
    per_kg = ctx.outlooks[doe_id]["drivers"]["appetite_g_per_kg_fcm"]
    return int(slot[0]["appetite_g"][slot[1]] + fcm_on(ctx, doe_id, on) * per_kg // 1000)


def season_value(ctx: Context, doe_id: str, on: str, name: str) -> int:
    """A figure of her compiled season on a date (milk as expected inside it); 0 outside."""
    known = doe_id in ctx.outlooks and not is_buck(ctx.view["does"][doe_id])
    season = ctx.outlooks[doe_id]["season"] if known else None
    index = days_between(season["day0"], on) if season and season["me_kj"] else -1
    return int(season[name][index]) if season and 0 <= index < len(season[name]) else 0


def need_on(ctx: Context, doe_id: str, on: str, dm_g: int) -> dict[str, int] | None:
    """Need of energy (kJ), protein, calcium and phosphorus (mg) on a date, at a dry-matter intake."""
    slot = slot_for(ctx, doe_id, on)
    if slot is None:
        return None
    branch, i = slot
    drivers = ctx.outlooks[doe_id]["drivers"]
    milk = milk_on(ctx, doe_id, on)
    me = branch["me_kj"][i] + fcm_on(ctx, doe_id, on) * drivers["me_kj_per_kg_fcm"] // 1000
    abroad = branch["maint_kj"][i] * (activity_pm(ctx, doe_id, on) + cold_pm(ctx, on)) // 1000
    need = {"me": int(me + abroad + regain_kj(ctx, doe_id, branch, i))}
    for key in ("cp", "ca", "p"):
        of_milk = milk * drivers[f"{key}_mg_per_kg_milk"] // 1000
        need[key] = int(branch[f"{key}_mg"][i] + of_milk + dm_g * drivers[f"{key}_mg_per_kg_dm"] // 1000)
    return need


def activity_pm(ctx: Context, doe_id: str, on: str) -> int:
    """What her pen's ground adds to maintenance, permille: the pen's own figure above that of a pen indoors."""
    pen = ctx.view["pens"].get(pen_on(ctx.view["does"][doe_id], on))
    own = pen["f"].get("activity_pm") if pen else None
    return max(0, own - 1000) if isinstance(own, int) else 0


def cold_pm(ctx: Context, on: str) -> int:
    """What the day's cold adds to maintenance, permille, by the last weather recorded for the date; capped."""
    rules, share = ctx.rules, 0
    for day, low_c, wet, _ in ctx.view["weather"]:
        if day == on:
            below = rules["cold_wet_from_c" if wet else "cold_from_c"] - low_c
            share = min(max(0, below) * rules["cold_pm_per_c"], rules["cold_cap_pm"])
    return int(share)


def need_sd_on(ctx: Context, doe_id: str, on: str) -> int:
    """One standard deviation of her energy need on a date, kJ: what is not known of her, and of her milk."""
    slot = slot_for(ctx, doe_id, on)
    if slot is None:
        return 0
    milk_kj = fcm_on(ctx, doe_id, on) * ctx.outlooks[doe_id]["drivers"]["me_kj_per_kg_fcm"] // 1000
    near = any(0 <= days_between(day, on) <= RECENT_MILK_DAYS for day in milk_days(ctx, doe_id))
    of_milk = milk_kj * ctx.rules["milk_weighed_sd_pm" if near else "milk_expected_sd_pm"] // 1000
    of_score = score_sd_kj(ctx, doe_id, *slot)
    return isqrt(slot[0]["me_sd_kj"][slot[1]] ** 2 + of_milk * of_milk + of_score * of_score)


def score_sd_kj(ctx: Context, doe_id: str, branch: dict[str, Any], i: int) -> int:
    """What one scorer's hand may be off, as energy a day, where she is fed to regain."""
    if not regain_kj(ctx, doe_id, branch, i):
        return 0
    points = ctx.rules["score_sd_x100"] * ctx.outlooks[doe_id]["drivers"]["me_kj_per_point"]
    return int(points // ctx.rules["regain_days"])


def regain_kj(ctx: Context, doe_id: str, branch: dict[str, Any], i: int) -> int:
    """Daily energy to bring a thin doe back to the foot of her band over the herd rule's days."""
    score = last_score(ctx, doe_id)
    gap = branch["band_lo"][i] - score[1] if score else 0
    if gap <= 0:
        return 0
    return int(gap * ctx.outlooks[doe_id]["drivers"]["me_kj_per_point"] // ctx.rules["regain_days"])


def last_score(ctx: Context, doe_id: str) -> tuple[int, int, int] | None:
    """(age in days, score x100, fall since the score before it within 60 days)."""
    scores = [row for row in ctx.view["does"][doe_id]["scores"] if row[0] <= ctx.day]
    if not scores:
        return None
    on, x100 = scores[-1][0], scores[-1][1]
    before = [row for row in scores[:-1] if days_between(row[0], on) <= 60]
    return (days_between(on, ctx.day), x100, before[-1][1] - x100 if before else 0)


def held_through(ctx: Context, doe_id: str, below: int) -> bool:
    """Her last three scores, 60 days at the most apart, all lie under a score and the last not above the first."""
    scores = [row for row in ctx.view["does"][doe_id]["scores"] if row[0] <= ctx.day][-3:]
    if len(scores) < 3 or days_between(scores[0][0], scores[-1][0]) > 60:
        return False
    return all(row[1] < below for row in scores) and bool(scores[-1][1] <= scores[0][1])
