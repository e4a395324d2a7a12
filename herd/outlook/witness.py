"""What bears out the sums: her condition, a refusal or slow morning, ketones, a missed step, less feed than before."""

from __future__ import annotations

from .balance import confirmed, eaten_on, enough_days, gestation_on, permille, window
from .branches import FRESH, slot_for
from .checkups import high_ketones
from .context import Context, shift
from .fitted import fitted
from .needs import last_score, milk_on
from .sharing import said_left

WEEK_D = 7


def witness(ctx: Context, doe_id: str, by_hand: bool = True) -> str:
    """ "condition" where a hand may be taken at its word, else what was observed, "less_feed" or ""."""
    if by_hand and _condition(ctx, doe_id):
        return "condition"
    return observed(ctx, doe_id) or ("less_feed" if less_feed(ctx, doe_id) else "")


def observed(ctx: Context, doe_id: str) -> str:
    """ "refusal", "ketones", "missed_step" or ""."""
    if _refusal(ctx, doe_id):
        return "refusal"
    if high_ketones(ctx, doe_id):
        return "ketones"
    return "missed_step" if _missed_step(ctx, doe_id) else ""


def less_feed(ctx: Context, doe_id: str) -> bool:
    """Clearly less than the week before, in the same stage: against need, late against what she could eat."""
    week, before = window(ctx, doe_id, WEEK_D), window(ctx, doe_id, WEEK_D, WEEK_D)
    if not enough_days(ctx, before) or not same_stage(ctx, doe_id):
        return False
    late = gestation_on(ctx, doe_id, ctx.day) >= ctx.rules["late_day"]
    # late her appetite falls by itself, and that is no fault of the feed
    now, then = ((part["appetite_g"] if late else part["need"]["me"]) for part in (week, before))
    if now <= 0 or then <= 0:
        return False
    usual = permille(before["got"]["me"], then)
    return permille(week["got"]["me"], now) * 1000 < usual * (1000 - fitted(ctx, "feed_fell_pm"))


def same_stage(ctx: Context, doe_id: str) -> bool:
    """Whether she was fresh, in milk or neither a week ago as she is today."""
    return stage(ctx, doe_id, ctx.day) == stage(ctx, doe_id, shift(ctx.day, -WEEK_D))


def stage(ctx: Context, doe_id: str, on: str) -> str:
    """ "fresh", "milk", "dry", or "" outside what was compiled."""
    slot = slot_for(ctx, doe_id, on)
    if slot is None:
        return ""
    return "fresh" if slot[0]["phase"][slot[1]] == FRESH else "milk" if milk_on(ctx, doe_id, on) else "dry"


def _condition(ctx: Context, doe_id: str) -> bool:
    score, slot = last_score(ctx, doe_id), slot_for(ctx, doe_id, ctx.day)
    if score is None or slot is None or score[0] > ctx.rules["score_holds_d"]:
        return False
    return score[1] < slot[0]["band_lo"][slot[1]] or score[2] >= ctx.rules["score_fell_x100"]


def _refusal(ctx: Context, doe_id: str) -> bool:
    for back in range(3):
        for intake in ctx.intakes.get(shift(ctx.day, -back), []):
            if intake["subject"] == doe_id and (intake["how"] in ("slow", "not_up") or said_left(ctx, intake) >= 200):
                return True
    return False


def _missed_step(ctx: Context, doe_id: str) -> bool:
    for back in (1, 2):
        on = shift(ctx.day, -back)
        planned = eaten_on(ctx, doe_id, on, planned=True)["day_g"]
        if confirmed(ctx, doe_id, on) and eaten_on(ctx, doe_id, on)["day_g"] * 1000 < planned * 800:
            return True
    return False
