"""The parts that make a need, a supply and a week on the phone: the very numbers the balance added up, taken apart."""

from __future__ import annotations

from typing import Any

from .balance import COMPOSITION, confirmed, day_sums, eaten_on, supply
from .branches import slot_for
from .context import Context, shift
from .needs import activity_pm, cold_pm, fcm_on, milk_on, regain_kj

WEEK_D = 7
FIRST = {"me": "maintenance", "cp": "body", "ca": "body", "p": "body"}


def told_day(ctx: Context, doe_id: str) -> tuple[str, bool]:
    """(date, whether it is only planned): the last confirmed day of the week, else today along the plan."""
    for back in range(WEEK_D + 1):
        on = shift(ctx.day, -back)
        if confirmed(ctx, doe_id, on) and slot_for(ctx, doe_id, on):
            return on, False
    return ctx.day, True


def need_terms(ctx: Context, doe_id: str, on: str, nutrient: str, dm_g: int) -> list[dict[str, Any]]:
    """[{"code", "value"}] in kJ or mg; they add up to need_on exactly. Parts of nothing are left out, but the first."""
    slot = slot_for(ctx, doe_id, on)
    if slot is None:
        return []
    parts = _energy(ctx, doe_id, on, slot) if nutrient == "me" else _other(ctx, doe_id, on, slot, nutrient, dm_g)
    kept = ((code, value) for code, value in parts if value or code == FIRST[nutrient])
    return [{"code": code, "value": int(value)} for code, value in kept]


def _energy(ctx: Context, doe_id: str, on: str, slot: tuple[dict[str, Any], int]) -> list[tuple[str, int]]:
    branch, i = slot
    pregnancy, growth = branch["preg_me_kj"][i], branch["growth_kj"][i]
    ground_pm = activity_pm(ctx, doe_id, on)
    abroad = branch["maint_kj"][i] * (ground_pm + cold_pm(ctx, on)) // 1000
    ground = branch["maint_kj"][i] * ground_pm // 1000
    milk = fcm_on(ctx, doe_id, on) * ctx.outlooks[doe_id]["drivers"]["me_kj_per_kg_fcm"] // 1000
    return [
        # what is left, so that the rounding of each compiled part lies here and the sum stays whole
        ("maintenance", branch["me_kj"][i] - pregnancy - growth),
        ("ground", ground),
        ("cold", abroad - ground),
        ("pregnancy", pregnancy),
        ("milk", milk),
        ("growth", growth),
        ("regain", regain_kj(ctx, doe_id, branch, i)),
    ]


def _other(
    ctx: Context, doe_id: str, on: str, slot: tuple[dict[str, Any], int], nutrient: str, dm_g: int
) -> list[tuple[str, int]]:
    branch, i = slot
    drivers = ctx.outlooks[doe_id]["drivers"]
    pregnancy = branch[f"preg_{nutrient}_mg"][i]
    return [
        ("body", branch[f"{nutrient}_mg"][i] - pregnancy),
        ("pregnancy", pregnancy),
        ("milk", milk_on(ctx, doe_id, on) * drivers[f"{nutrient}_mg_per_kg_milk"] // 1000),
        ("intake", dm_g * drivers[f"{nutrient}_mg_per_kg_dm"] // 1000),
    ]


def feed_parts(ctx: Context, doe_id: str, on: str, planned: bool, nutrient: str) -> list[dict[str, Any]]:
    """[{"feed", "dm_g", "own_g", "content", "value"}]: content per kg or per g as in the book, None where unknown."""
    eaten = eaten_on(ctx, doe_id, on, planned)
    rows = []
    for feed_id, dm_g in eaten["dm"].items():
        feed = ctx.feed(feed_id)
        content = feed[COMPOSITION[nutrient]] if feed else None
        value = supply(ctx, {feed_id: dm_g})[0][nutrient]
        own_g = eaten["own"].get(feed_id, 0)
        rows.append({"feed": feed_id, "dm_g": dm_g, "own_g": own_g, "content": content, "value": value})
    return rows


def week_days(ctx: Context, doe_id: str, nutrient: str) -> list[dict[str, Any]]:
    """[{"on", "need", "got", "counts"}] for the days the week looks at, oldest first; only confirmed ones count."""
    last = ctx.day if confirmed(ctx, doe_id, ctx.day) else shift(ctx.day, -1)
    kidded = ctx.view["does"][doe_id]["kidded"]
    rows = []
    for back in range(WEEK_D - 1, -1, -1):
        on = shift(last, -back)
        sums = day_sums(ctx, doe_id, on, False)
        if sums is None or (kidded and on < kidded["on"]):
            continue
        need, got = sums["need"][nutrient], sums["got"][nutrient]
        rows.append({"on": on, "need": need, "got": got, "counts": confirmed(ctx, doe_id, on)})
    return rows
