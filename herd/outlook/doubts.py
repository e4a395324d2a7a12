"""What the 80 % band of energy is made of, each doubt's share of it, and what recording something would take away."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from .balance import confirmed, parts_of, window
from .branches import slot_for
from .context import Context, days_between, shift
from .entered import TESTED_SD_PM
from .needs import RECENT_MILK_DAYS, fcm_on, milk_days, score_sd_kj
from .surety import feed_sd_pm

WEEK_D = 7
FINE = 100_000
# of what, its size, the act that shrinks it, and the size it then has; sizes as one standard deviation
Part = tuple[str, str, int, str, int]


def doubts(ctx: Context, doe_id: str) -> list[dict[str, Any]]:
    """[{"of", "feed", "pm", "act", "removes_pm"}], shares of the variance of supply over need, what can go first.

    Empty where nothing was eaten or nothing is needed: then there is no band.
    """
    week = window(ctx, doe_id, WEEK_D)
    got, need = week["got"]["me"], week["need"]["me"]
    if got <= 0 or need <= 0:
        return []
    of_supply = [(part, _square(part[2], got), _square(part[4], got)) for part in _supply(ctx, week)]
    of_need = list(_need_squares(ctx, doe_id, week, need))
    total = sum(size for _, size, _ in [*of_supply, *of_need])
    if not total:
        return []
    rows = [
        {"of": of, "feed": feed, "pm": size * 1000 // total, "act": act, "removes_pm": (size - left) * 1000 // total}
        for (of, feed, _, act, _), size, left in [*of_supply, *of_need]
    ]
    return sorted((row for row in rows if row["pm"]), key=_order)


def _order(row: dict[str, Any]) -> tuple[int, int, str, str]:
    return -int(row["removes_pm"]), -int(row["pm"]), str(row["of"]), str(row["feed"])


def _square(part: int, whole: int) -> int:
    parts = part * FINE // whole
    return parts * parts


def _supply(ctx: Context, week: dict[str, Any]) -> Iterator[Part]:
    shared = (week["got"]["me"] - week["own_me"]) * ctx.rules["waste_share_sd_pm"] // 1000
    yield "feeder", "", shared, "", shared
    amounts = week["got"]["me"] * ctx.rules["amount_sd_pm"] // 1000
    yield "amounts", "", amounts, "", amounts
    for feed_id, kj in parts_of(ctx, week, "me").items():
        sd_pm = feed_sd_pm(ctx, feed_id)
        tested = min(sd_pm, TESTED_SD_PM)
        act = "test_feed" if tested < sd_pm else ""
        yield "feed", feed_id, kj * sd_pm // 1000, act, kj * tested // 1000


def _need_squares(ctx: Context, doe_id: str, week: dict[str, Any], need: int) -> Iterator[tuple[Part, int, int]]:
    """Her own doubts add up day by day in the band; the whole is shared out here by the square of each."""
    parts = list(_need(ctx, doe_id))
    whole = sum(part[2] * part[2] for part in parts)
    if not whole:
        return
    each = _square(week["need_sd"], need) // 1000
    for part in parts:
        size = part[2] * part[2] * 1000 // whole * each
        left = part[4] * part[4] * 1000 // whole * each
        yield part, size, min(size, left)


def _need(ctx: Context, doe_id: str) -> Iterator[Part]:
    rules, who = ctx.rules, ctx.outlooks[doe_id].get("who", {})
    maint, preg, milk = _week_energy(ctx, doe_id)
    yield "maintenance", "", maint * rules["maintenance_sd_pm"] // 1000, "", maint * rules["maintenance_sd_pm"] // 1000
    mass, scale = rules[mass_rule(who)], rules["mass_scale_sd_pm"]
    # maintenance goes with weight to the power 3/4, so weight counts by it
    weigh = "weigh" if scale < mass else ""
    yield "weight", "", maint * mass * 3 // 4000, weigh, maint * min(mass, scale) * 3 // 4000
    yield "kid_weight", "", preg * rules["kid_weight_sd_pm"] // 1000, "", preg * rules["kid_weight_sd_pm"] // 1000
    yield "conceptus", "", preg * rules["conceptus_sd_pm"] // 1000, "", preg * rules["conceptus_sd_pm"] // 1000
    of_score = week_score(ctx, doe_id)
    yield "score", "", of_score, "", of_score
    prior, scan = rules["litter_prior_sd_pm"], rules["litter_scan_sd_pm"]
    counted = who.get("litter_from") == "scan"
    act = "" if counted or scan >= prior else "scan"
    yield (
        "litter",
        "",
        preg * (scan if counted else prior) // 1000,
        act,
        preg * (scan if act or counted else prior) // 1000,
    )
    guessed, weighed = rules["milk_expected_sd_pm"], rules["milk_weighed_sd_pm"]
    near = any(0 <= days_between(day, ctx.day) <= RECENT_MILK_DAYS for day in milk_days(ctx, doe_id))
    act = "" if near or weighed >= guessed else "weigh_milk"
    yield (
        "milk",
        "",
        milk * (weighed if near else guessed) // 1000,
        act,
        milk * (weighed if act or near else guessed) // 1000,
    )


def week_score(ctx: Context, doe_id: str) -> int:
    """What the scorer's hand may be off over the days that counted [kJ]; nothing while she is not fed to regain."""
    slot = slot_for(ctx, doe_id, ctx.day)
    return score_sd_kj(ctx, doe_id, *slot) * window(ctx, doe_id, WEEK_D)["days"] if slot else 0


def mass_rule(who: dict[str, Any]) -> str:
    """The herd rule that says how far her weight may be off, by how it is known."""
    how = who.get("mass_from") or "class"
    return "mass_tape_mini_sd_pm" if how == "tape" and who.get("size") == "mini" else f"mass_{how}_sd_pm"


def _week_energy(ctx: Context, doe_id: str) -> tuple[int, int, int]:
    """Energy of maintenance, litter and milk over the days that counted [kJ]."""
    last = ctx.day if confirmed(ctx, doe_id, ctx.day) else shift(ctx.day, -1)
    kidded = ctx.view["does"][doe_id]["kidded"]
    per = ctx.outlooks[doe_id]["drivers"]["me_kj_per_kg_fcm"]
    maint = preg = milk = 0
    for back in range(WEEK_D):
        on = shift(last, -back)
        slot = slot_for(ctx, doe_id, on)
        if slot is None or (kidded and on < kidded["on"]) or not confirmed(ctx, doe_id, on):
            continue
        maint += slot[0]["maint_kj"][slot[1]]
        preg += slot[0]["preg_me_kj"][slot[1]]
        milk += fcm_on(ctx, doe_id, on) * per // 1000
    return maint, preg, milk
