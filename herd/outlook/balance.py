"""Supply against need: what was eaten on a day, whether the day is confirmed, and sums over days."""

from __future__ import annotations

from typing import Any

from herd.state.doe_state import pen_on

from .context import NUTRIENTS, Context, days_between, shift
from .needs import need_on
from .plan import planned_slots
from .sharing import share_day

COMPOSITION = {"me": ("me_kj_kg", 1000), "cp": ("cp_ug_g", 1000), "ca": ("ca_ug_g", 1000), "p": ("p_ug_g", 1000)}


def eaten_on(ctx: Context, doe_id: str, on: str, planned: bool = False) -> dict[str, Any]:
    """What she ate (or is planned to) on a date; a doe in no pen is worked as a pen of her own."""
    pen = pen_on(ctx.view["does"][doe_id], on) or doe_id
    shares = share_day(ctx, pen, on, planned)
    return shares.get(doe_id) or {"dm": {}, "own": {}, "offered": {}, "slots": [], "meal_g": 0, "day_g": 0}


def confirmed(ctx: Context, doe_id: str, on: str) -> bool:
    """Every planned slot has a feeding that reached her; with no plan, any feeding will do."""
    slots = set(eaten_on(ctx, doe_id, on)["slots"])
    planned = planned_slots(ctx, doe_id, on)
    return planned <= slots if planned else bool(slots)


def day_sums(ctx: Context, doe_id: str, on: str, planned: bool) -> dict[str, Any] | None:
    """One day's got, need, possible extra from unknown composition, own share and dry matter; None without a need."""
    eaten = eaten_on(ctx, doe_id, on, planned)
    dm = sum(eaten["dm"].values())
    need = need_on(ctx, doe_id, on, dm)
    if need is None:
        return None
    got, extra = supply(ctx, eaten["dm"])
    offered = supply(ctx, eaten["offered"])[0]["me"]
    own = sum(eaten["own"].values())
    return {"need": need, "got": got, "extra": extra, "dm": dm, "own": own, "offered_me": offered}


def supply(ctx: Context, dm: dict[str, int]) -> tuple[dict[str, int], dict[str, int]]:
    """Nutrients in dry matter eaten (kJ, mg), and the most that feeds of unknown composition could add."""
    got, extra = dict.fromkeys(NUTRIENTS, 0), dict.fromkeys(NUTRIENTS, 0)
    for feed_id in dm:
        feed = ctx.feed(feed_id)
        for key in NUTRIENTS:
            column, per = COMPOSITION[key]
            value = feed[column] if feed else None
            if value is None:
                extra[key] += dm[feed_id] * ctx.rules[f"unknown_max_{column}"] // per
            else:
                got[key] += dm[feed_id] * value // per
    return got, extra


def window(ctx: Context, doe_id: str, days: int) -> dict[str, Any]:
    """Sums over her last days, worked once."""
    key = f"window|{doe_id}|{days}"
    if key not in ctx.memo:
        ctx.memo[key] = _window(ctx, doe_id, days)
    return dict(ctx.memo[key])


def _window(ctx: Context, doe_id: str, days: int) -> dict[str, Any]:
    """Sums over the confirmed days among the last `days` (today counts once confirmed), none before she last kidded."""
    last = ctx.day if confirmed(ctx, doe_id, ctx.day) else shift(ctx.day, -1)
    kidded = ctx.view["does"][doe_id]["kidded"]
    total: dict[str, Any] = {"days": 0, "of": 0, "dm": 0, "own": 0, "offered_me": 0}
    for part in ("need", "got", "extra"):
        total[part] = dict.fromkeys(NUTRIENTS, 0)
    for back in range(days):
        on = shift(last, -back)
        if kidded and on < kidded["on"]:
            break
        total["of"] += 1
        sums = day_sums(ctx, doe_id, on, False) if confirmed(ctx, doe_id, on) else None
        if sums:
            total["days"] += 1
            add(total, sums)
    return total


def add(total: dict[str, Any], sums: dict[str, Any]) -> None:
    """Add one day (or one doe) to a running total."""
    for key in ("dm", "own", "offered_me"):
        total[key] += sums[key]
    for part in ("need", "got", "extra"):
        for key in NUTRIENTS:
            total[part][key] += sums[part][key]


def permille(got: int, need: int) -> int:
    """Supply per thousand of need; level when nothing is needed."""
    return got * 1000 // need if need > 0 else 1000


def enough_days(ctx: Context, total: dict[str, Any]) -> bool:
    """Enough confirmed days for a verdict: the herd rule's number of seven, fewer only where fewer days exist."""
    asked: int = min(ctx.rules["confirmed_days"], max(2, total["of"]))
    return int(total["days"]) >= asked


def gestation_on(ctx: Context, doe_id: str, on: str) -> int:
    """Day of gestation on a date by the mid due date of her outlook; -1 when not pregnant."""
    outlook = ctx.outlooks[doe_id]
    pregnant = ctx.view["does"][doe_id]["bred"] and outlook["due"]
    index = days_between(outlook["day0"], on)
    branch = outlook["branches"]["as_is"]
    return int(branch["gest"][index]) if pregnant and 0 <= index < len(branch["gest"]) else -1
