"""The whole explanation of one doe and one nutrient, from who she is to the prompt."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..balance import confirmed
from ..context import Context, shift
from ..evaluate import evaluate
from .balance import ahead_text, balance_text
from .band import band_text
from .case import case_text
from .eaten import eaten_text
from .need import appetite_text, need_text
from .today import today_text
from .verdict import condition_text, thresholds_text, verdict_text
from .who import dates_text, who_text


def report(ctx: Context, doe_id: str, doe: Mapping[str, Any], rules: Mapping[str, int], nutrient: str) -> list[str]:
    """Lines of text. `doe` is her record as the outlook was compiled from it.

    Parameters
    ----------
    ctx : the farm on one day, with every doe's outlook
    doe_id : her id
    doe : her folded record, of the kinds that shape an outlook
    rules : the farm's herd rules over our defaults
    nutrient : me, cp, ca or p
    """
    result = evaluate(ctx.view, ctx.outlooks, ctx.book, ctx.day)["does"].get(doe_id)
    if result is None:
        return ["  she is no longer in the herd"]
    if result["standing"] != "ok":
        why = "a buck" if result["standing"] == "buck" else f"her outlook is {result['standing']}"
        return [*case_text(result), *verdict_text(result, nutrient), f"  {why}: no amounts"]
    last = last_day(ctx, doe_id)
    return [
        *who_text(ctx, doe_id, rules),
        *dates_text(ctx, doe_id),
        *need_text(ctx, doe_id, doe, rules, last, nutrient),
        *appetite_text(ctx, doe_id, last),
        *eaten_text(ctx, doe_id, last, nutrient),
        *balance_text(ctx, doe_id, nutrient),
        *band_text(ctx, doe_id, result, nutrient),
        *ahead_text(ctx, doe_id, nutrient),
        *condition_text(ctx, doe_id, result["band"]),
        *today_text(ctx, doe_id, result),
        *case_text(result),
        *thresholds_text(ctx, doe_id, nutrient),
        *verdict_text(result, nutrient),
    ]


def last_day(ctx: Context, doe_id: str) -> str:
    """The latest day a balance counts: today once every planned meal is confirmed, else yesterday."""
    return ctx.day if confirmed(ctx, doe_id, ctx.day) else shift(ctx.day, -1)
