"""Supply against need: what was eaten on a day, whether the day is confirmed, and sums over days."""

from __future__ import annotations

from typing import Any

from herd.state.doe_state import pen_on

from .context import NUTRIENTS, Context, days_between, shift
from .feed_classes import FORAGE
from .needs import appetite_on, need_on, need_sd_on
from .plan import planned_slots
from .sharing import share_day

# protein counts at the share of it that is used when a fifth escapes the rumen: CP x (0.64 + 0.16 x share) / 0.672
COMPOSITION = {"me": "me_kj_kg", "cp": "cp_eq_ug_g", "ca": "ca_ug_g", "p": "p_ug_g"}
COUNTED = ("dm", "own", "offered_me", "own_me", "need_sd", "appetite_g", "ndf_g", "forage_g")
PARTS = ("need", "got", "extra")


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
    sums: dict[str, Any] = {"need": need, "got": got, "extra": extra, "dm": dm, "offered_me": offered}
    sums["own"] = sum(eaten["own"].values())
    sums["own_me"] = supply(ctx, eaten["own"])[0]["me"]
    sums["need_sd"] = need_sd_on(ctx, doe_id, on)
    sums["appetite_g"] = appetite_on(ctx, doe_id, on)
    sums["dm_by"] = {feed: g for feed, g in eaten["dm"].items() if g}
    return sums | fibre_of(ctx, eaten["dm"])


def fibre_of(ctx: Context, dm: dict[str, int]) -> dict[str, int]:
    """Grams of fibre (NDF), where unknown at the most it could be, and grams of forage, in dry matter eaten."""
    ndf = forage = 0
    for feed_id, g in dm.items():
        feed = ctx.feed(feed_id)
        known = feed["ndf_pm"] if feed and feed["ndf_pm"] is not None else ctx.rules["unknown_max_ndf_pm"]
        ndf += g * known // 1000
        forage += g if feed and feed["class"] in FORAGE else 0
    return {"ndf_g": ndf, "forage_g": forage}


def supply(ctx: Context, dm: dict[str, int]) -> tuple[dict[str, int], dict[str, int]]:
    """Nutrients in dry matter eaten (kJ, mg), and the most that feeds of unknown composition could add."""
    got, extra = dict.fromkeys(NUTRIENTS, 0), dict.fromkeys(NUTRIENTS, 0)
    for feed_id in dm:
        feed = ctx.feed(feed_id)
        for key in NUTRIENTS:
            column = COMPOSITION[key]
            value = feed[column] if feed else None
            if value is None:
                extra[key] += dm[feed_id] * ctx.rules[f"unknown_max_{column}"] // 1000
            else:
                got[key] += dm[feed_id] * value // 1000
    return got, extra


def parts_of(ctx: Context, total: dict[str, Any], key: str) -> dict[str, int]:
    """{feed: kJ or mg of one nutrient} in what was eaten over the days; 0 where a feed has no value."""
    column, parts = COMPOSITION[key], dict[str, int]()
    for feed_id, g in total["dm_by"].items():
        feed = ctx.feed(feed_id)
        parts[feed_id] = g * ((feed[column] if feed else None) or 0) // 1000
    return parts


def blank_feeds(ctx: Context, total: dict[str, Any], key: str) -> int:
    """How many of the feeds eaten have no value for a nutrient."""
    feeds = (ctx.feed(feed_id) for feed_id in total["dm_by"])
    return sum(1 for feed in feeds if feed is None or feed[COMPOSITION[key]] is None)


def window(ctx: Context, doe_id: str, days: int, skip: int = 0) -> dict[str, Any]:
    """Sums over her last days, or over as many before the last `skip`; worked once."""
    key = f"window|{doe_id}|{days}|{skip}"
    if key not in ctx.memo:
        ctx.memo[key] = _window(ctx, doe_id, days, skip)
    return dict(ctx.memo[key])


def _window(ctx: Context, doe_id: str, days: int, skip: int) -> dict[str, Any]:
    """Sums over the confirmed days among those asked for (today counts once confirmed), none before she last kidded."""
    last = ctx.day if confirmed(ctx, doe_id, ctx.day) else shift(ctx.day, -1)
    kidded = ctx.view["does"][doe_id]["kidded"]
    total: dict[str, Any] = {"days": 0, "of": 0, **no_sums()}
    for back in range(skip, skip + days):
        on = shift(last, -back)
        if kidded and on < kidded["on"]:
            break
        total["of"] += 1
        sums = day_sums(ctx, doe_id, on, False) if confirmed(ctx, doe_id, on) else None
        if sums:
            total["days"] += 1
            add(total, sums)
    return total


def no_sums() -> dict[str, Any]:
    """A running total with nothing in it."""
    parts = {part: dict.fromkeys(NUTRIENTS, 0) for part in PARTS}
    return {**dict.fromkeys(COUNTED, 0), **parts, "dm_by": {}}


def add(total: dict[str, Any], sums: dict[str, Any]) -> None:
    """Add one day (or one doe) to a running total."""
    for name in COUNTED:
        total[name] += sums[name]
    for part in PARTS:
        for key in NUTRIENTS:
            total[part][key] += sums[part][key]
    for feed, g in sums["dm_by"].items():
        total["dm_by"][feed] = total["dm_by"].get(feed, 0) + g


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
