"""The second witness a late energy prompt needs: her condition, a refusal or slow morning, or a missed plan step."""

from __future__ import annotations

from .balance import confirmed, eaten_on
from .branches import slot_for
from .checkups import high_ketones
from .context import Context, shift
from .needs import last_score
from .sharing import said_left


def witness(ctx: Context, doe_id: str) -> str:
    """ "condition", "refusal", "ketones", "missed_step" or ""."""
    if _condition(ctx, doe_id):
        return "condition"
    if _refusal(ctx, doe_id):
        return "refusal"
    if high_ketones(ctx, doe_id):
        return "ketones"
    return "missed_step" if _missed_step(ctx, doe_id) else ""


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
