"""Where her condition will be at kidding: her last score, carried along the week she had and the plan she has.

Published systems differ twofold in what a litter asks for late, so it is carried along at the middle of them, and the
width of that stands in the band. What her own scores say against the sums is learned as far as a scorer can be trusted.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import isqrt
from typing import Any

from .balance import confirmed, eaten_on, enough_days, supply, window
from .branches import slot_for
from .context import Context, days_between, shift
from .needs import activity_pm, cold_pm, fcm_on, last_score, season_value
from .plan import has_plan
from .surety import Z80_PM, supply_doubt

FARTHEST_D = 60
STRETCH_D = 14
LEAST_X100, MOST_X100 = 100, 500
# two scores this far apart say how she keeps on her feed
APART_D = (14, 60)
Score = tuple[int, int, int]
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
    since, ahead = _net(ctx, doe_id, -score[0], 0, week), _net(ctx, doe_id, 0, days, week)
    if since is None or ahead is None:
        return None, "feed_value"
    return _scored(ctx, doe_id, on, days, score, week, (since[0] + ahead[0], since[1] + ahead[1]))


def _why_not(ctx: Context, days: int, score: Score | None, week: dict[str, Any]) -> str:
    if days <= 0:
        return "due"
    if days > FARTHEST_D:
        return "too_far"
    if score is None:
        return "no_score"
    if score[0] > ctx.rules["score_holds_d"]:
        return "old_score"
    return "few_days" if not week["days"] or not enough_days(ctx, week) else "feed_value" if week["extra"]["me"] else ""


def _net(ctx: Context, doe_id: str, first: int, last: int, week: dict[str, Any]) -> tuple[int, int] | None:
    """(kJ over or, negative, short, kJ in dispute) after day `first` up to `last` from today; None with a feed unknown.

    A fortnight is taken as its middle day: what was eaten or is planned on it, else as in the last seven days.
    """
    usual, net, disputed = week["got"]["me"] // week["days"], 0, 0
    for middle, n in _stretches(first, last):
        on = shift(ctx.day, middle)
        known = has_plan(ctx, doe_id, on) if middle > 0 else confirmed(ctx, doe_id, on)
        got = _eaten(ctx, doe_id, on, middle > 0) if known else usual
        if got is None:
            return None
        need, half = _body_need(ctx, doe_id, on)
        net, disputed = net + (got - need) * n, disputed + half * n
    return net, disputed


def _stretches(first: int, last: int) -> Iterator[tuple[int, int]]:
    """(middle day, days) of the fortnights after day `first` up to `last`, counted from today."""
    for start in range(first + 1, last + 1, STRETCH_D):
        n = min(STRETCH_D, last + 1 - start)
        yield start + n // 2, n


def _eaten(ctx: Context, doe_id: str, on: str, planned: bool) -> int | None:
    got, extra = supply(ctx, eaten_on(ctx, doe_id, on, planned)["dm"])
    return None if extra["me"] else got["me"]


def _body_need(ctx: Context, doe_id: str, on: str) -> tuple[int, int]:
    """(energy that would hold her as she is, half of what systems dispute), without what brings a thin doe back.

    The litter lies between the herd's floor share and the whole; the rest at the middle of the published figures.
    """
    slot, high = slot_for(ctx, doe_id, on), 1000 + ctx.rules["need_high_pm"]
    if slot is None:
        return season_value(ctx, doe_id, on, "me_kj") * 1000 // high, 0
    branch, i = slot
    half = branch["preg_me_kj"][i] * (1000 - ctx.rules["floor_share_pm"]) // 2000
    milk = fcm_on(ctx, doe_id, on) * ctx.outlooks[doe_id]["drivers"]["me_kj_per_kg_fcm"] // 1000
    abroad = branch["maint_kj"][i] * (activity_pm(ctx, doe_id, on) + cold_pm(ctx, on)) // 1000
    rest = branch["me_kj"][i] - branch["preg_me_kj"][i] + milk + abroad
    return rest * 1000 // high + branch["preg_me_kj"][i] - half, half


def _scored(
    ctx: Context, doe_id: str, on: str, days: int, score: Score, week: dict[str, Any], by_sums: tuple[int, int]
) -> Ahead:
    drivers, length = ctx.outlooks[doe_id]["drivers"], days + score[0]
    # an error of feed, feeder or need lasts, so it grows with the days
    a_day = isqrt(supply_doubt(ctx, week) + week["need_sd"] ** 2) // week["days"]
    own_kj, left = _learned(ctx, doe_id, score, week, a_day)
    net = by_sums[0] + own_kj * length
    change = _points(net, drivers)
    x100 = score[1] + change
    if not LEAST_X100 <= x100 <= MOST_X100:
        return None, "off_scale"
    spreads = {
        "scorer": drivers["score_sd_x100"],
        "conversion": abs(change) * drivers["point_sd_pm"] // 1000,
        "balance": length * left // drivers["me_kj_per_point"],
        # the two published ends are taken as the ends of the 80 % band
        "litter": by_sums[1] * 1000 // Z80_PM // drivers["me_kj_per_point_lost"],
    }
    half = isqrt(sum(part * part for part in spreads.values())) * Z80_PM // 1000
    lo, hi = max(LEAST_X100, x100 - half), min(MOST_X100, x100 + half)
    found = {"on": on, "x100": x100, "lo": lo, "hi": hi, "from": score[1], "age_d": score[0]}
    return {**found, "net_kj": net, "own_kj_d": own_kj, "spread": spreads}, ""


def _points(net_kj: int, drivers: dict[str, int]) -> int:
    """Hundredths of a point for energy over or short."""
    up = net_kj >= 0
    points = abs(net_kj) // drivers["me_kj_per_point" if up else "me_kj_per_point_lost"]
    return int(points if up else -points)


def _learned(ctx: Context, doe_id: str, score: Score, week: dict[str, Any], a_day: int) -> tuple[int, int]:
    """(kJ a day to add to the sums for this doe, doubt left a day): two scores against what was fed between them.

    The mean of what the sums say and what her scores say, each weighed by how sure it is.
    """
    earlier = _earlier(ctx, doe_id, score)
    if earlier is None or not a_day:
        return 0, a_day
    apart, x100 = earlier
    first, last = -score[0] - apart, -score[0]
    recorded = all(confirmed(ctx, doe_id, shift(ctx.day, middle)) for middle, _ in _stretches(first, last))
    between = _net(ctx, doe_id, first, last, week) if recorded else None
    if between is None:
        return 0, a_day
    drivers = ctx.outlooks[doe_id]["drivers"]
    gained = score[1] - x100
    if between[0] > 0 and gained >= 0:
        # offered more than she needed she did not run to fat: she left it, and that tells nothing of scarcer days
        return 0, a_day
    seen = gained * drivers["me_kj_per_point" if gained >= 0 else "me_kj_per_point_lost"]
    of_scores = isqrt(2 * (drivers["score_sd_x100"] * drivers["me_kj_per_point"]) ** 2) // apart
    trust_pm = a_day * a_day * 1000 // (a_day * a_day + of_scores * of_scores)
    return (seen - between[0]) // apart * trust_pm // 1000, a_day * isqrt((1000 - trust_pm) * 1000) // 1000


def _earlier(ctx: Context, doe_id: str, score: Score) -> tuple[int, int] | None:
    """(days before her last score, score x100) of the score farthest back that still tells of this feeding."""
    last = shift(ctx.day, -score[0])
    for on, x100, *_ in ctx.view["does"][doe_id]["scores"]:
        apart = days_between(on, last)
        if APART_D[0] <= apart <= APART_D[1]:
            return apart, x100
    return None
