"""Farm view and day to a result and one prompt per doe. Integers only, no biology, no clock: the phone runs a twin.

The TypeScript twin is frontend/src/core/outlook/evaluate.ts and its neighbours of the same names; shared vectors and
generated cases hold the two equal.
"""

from __future__ import annotations

from typing import Any

from .balance import gestation_on, window
from .branches import slot_for, standing
from .checkups import checkup_word
from .context import Context
from .daily import tapped, wants_tap
from .freeze import freeze_of
from .minerals import doubled
from .off_feed import off_feed_word
from .prompts import choose, spread
from .risk import risk_of
from .score_ahead import condition_ahead
from .verdicts import fibre_line, lines_for, pen_calcium


def evaluate(view: dict[str, Any], outlooks: dict[str, Any], book: dict[str, Any], day: str) -> dict[str, Any]:
    """{"does": {id: result}, "pens": {id: {"prompt"}}} for every doe still in the herd on a date."""
    ctx = Context(view, outlooks, book, day)
    does = {doe_id: doe_result(ctx, doe_id) for doe_id in sorted(view["does"]) if ctx.here(doe_id)}
    for pen in sorted(view["pens"]):
        mates = [doe for doe in ctx.pen_mates(pen, day) if doe in does]
        _pen_calcium(ctx, mates, does)
    for doe_id in does:
        does[doe_id]["risk"] = risk_of(ctx, doe_id, does[doe_id])
        does[doe_id]["prompt"] = choose(ctx, doe_id, does[doe_id])
    return {"does": does, "pens": spread(ctx, does)}


def doe_result(ctx: Context, doe_id: str) -> dict[str, Any]:
    """Phase, dates and nutrient lines of one doe, before a prompt is chosen."""
    status = standing(ctx, doe_id)
    result: dict[str, Any] = {"id": doe_id, "pen": ctx.view["does"][doe_id]["pen"], "standing": status}
    slot = slot_for(ctx, doe_id, ctx.day)
    result["phase"] = slot[0]["phase"][slot[1]] if slot else -1
    result["lane"] = slot[0]["lane"][slot[1]] if slot else -1
    result["gest"] = gestation_on(ctx, doe_id, ctx.day) if slot else -1
    result["due"] = ctx.outlooks[doe_id]["due"] if slot and ctx.view["does"][doe_id]["bred"] else None
    result["band"] = [slot[0][edge][slot[1]] for edge in ("band_lo", "band_hi")] if slot else []
    result["off_feed"] = off_feed_word(ctx, doe_id)
    result["down"] = bool(result["off_feed"]) and result["off_feed"]["args"]["down"]
    result["freeze"], result["doubled"] = freeze_of(ctx, doe_id), doubled(ctx, doe_id)
    result["daily"] = wants_tap(ctx, doe_id, result["due"] if status == "ok" else None)
    result["tapped"] = tapped(ctx, doe_id)
    result["checkup"] = checkup_word(ctx, doe_id)
    result["lines"] = lines_for(ctx, doe_id) if status == "ok" else {}
    result["fibre"] = fibre_line(ctx, doe_id) if status == "ok" else None
    result["days"] = window(ctx, doe_id, 7)["days"] if status == "ok" else 0
    result["condition_ahead"], result["condition_why"] = condition_ahead(ctx, doe_id, result)
    return result


def _pen_calcium(ctx: Context, mates: list[str], does: dict[str, Any]) -> None:
    shared = [d for d in mates if does[d]["lines"] and does[d]["lines"]["ca"]["of"] == "pen"]
    state = pen_calcium(ctx, shared) if shared else "unknown"
    for doe_id in shared:
        does[doe_id]["lines"]["ca"]["st"] = state
        does[doe_id]["lines"]["ca"]["ahead"] = None
