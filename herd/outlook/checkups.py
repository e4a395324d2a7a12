"""Ketones, temperature, belly and udder: what a reading or a look at her asks for. Bands are herd rules.

What a tight left side and a cold udder ask for is common practice, no source.
"""

from __future__ import annotations

from typing import Any

from .balance import gestation_on
from .branches import FRESH, slot_for
from .context import Context, days_between

KETONES_HOLD_D = 3
TEMPERATURE_HOLD_D = 1
URINE = {"moderate": "vet", "large": "vet", "small": "act", "trace": "watch"}
WORDS = ("vet", "act", "watch")
SEEN_HOLDS_D = 1
SEEN = {
    ("belly", "tight"): "belly_vet",
    ("udder", "cold"): "udder_vet",
    ("udder", "hot"): "udder_watch",
    ("udder", "clots"): "udder_watch",
}


def checkup_word(ctx: Context, doe_id: str) -> dict[str, Any] | None:
    """The prompt her last readings call for: {"code", "args"}, or None."""
    found = [_seen(ctx, doe_id, "belly"), _seen(ctx, doe_id, "udder"), _temperature(ctx, doe_id), _ketones(ctx, doe_id)]
    said = [word for word in found if word]
    return min(said, key=lambda word: WORDS.index(word["code"].split("_")[1])) if said else None


def _last(ctx: Context, doe_id: str, place: int, blank: Any, days: int) -> list[Any] | None:
    rows = [row for row in ctx.view["does"][doe_id]["checkups"] if row[0] <= ctx.day and row[place] != blank]
    return rows[-1] if rows and days_between(rows[-1][0], ctx.day) <= days else None


def _seen(ctx: Context, doe_id: str, part: str) -> dict[str, Any] | None:
    """What was seen of a part of her last, today or yesterday."""
    rows = [row for row in ctx.view["does"][doe_id]["checkups"] if row[0] <= ctx.day and row[7][part]]
    code = SEEN.get((part, rows[-1][7][part])) if rows and days_between(rows[-1][0], ctx.day) <= SEEN_HOLDS_D else None
    return _say(code, on=rows[-1][0]) if code else None


def _temperature(ctx: Context, doe_id: str) -> dict[str, Any] | None:
    row, rules = _last(ctx, doe_id, 2, 0, TEMPERATURE_HOLD_D), ctx.rules
    if row is None:
        return None
    if row[2] < rules["temp_low_vet_x10"] or row[2] >= rules["temp_high_vet_x10"]:
        return _say("temperature_vet", x10=row[2], on=row[0])
    if row[2] < rules["temp_low_x10"] or row[2] > rules["temp_high_x10"]:
        return _say("temperature_watch", x10=row[2], on=row[0])
    return None


def _ketones(ctx: Context, doe_id: str) -> dict[str, Any] | None:
    if not _near_kidding(ctx, doe_id):
        return None
    blood, urine = (_last(ctx, doe_id, place, blank, KETONES_HOLD_D) for place, blank in ((3, 0), (4, "")))
    # blood is the surer of the two, so a urine strip speaks only where no blood was read since
    if blood and not (urine and urine[1] > blood[1]):
        word = blood_band(ctx, blood[3])
        return _say(f"ketones_{word}", x10=blood[3], urine="", on=blood[0]) if word else None
    word = URINE.get(urine[4], "") if urine else ""
    return _say(f"ketones_{word}", x10=0, urine=urine[4], on=urine[0]) if urine and word else None


def ketone_word(ctx: Context, doe_id: str) -> str | None:
    """ "vet", "act", "watch", "clear" or "" (a clean strip) by her last reading; None when there is none to go by."""
    blood, urine = (_last(ctx, doe_id, place, blank, KETONES_HOLD_D) for place, blank in ((3, 0), (4, "")))
    if blood and not (urine and urine[1] > blood[1]):
        return blood_band(ctx, blood[3]) or "clear"
    return URINE.get(urine[4], "") if urine else None


def blood_band(ctx: Context, bhb_x10: int) -> str:
    """ "vet", "act", "watch" or "" for blood ketones in tenths of mmol/L."""
    bands = (("vet", "bhb_vet_x10"), ("act", "bhb_act_x10"), ("watch", "bhb_watch_x10"))
    return next((word for word, rule in bands if bhb_x10 >= ctx.rules[rule]), "")


def high_ketones(ctx: Context, doe_id: str) -> bool:
    """Whether her last reading is high enough to bear out a short ration."""
    said = _ketones(ctx, doe_id)
    return said is not None and not said["code"].endswith("watch")


def _near_kidding(ctx: Context, doe_id: str) -> bool:
    slot = slot_for(ctx, doe_id, ctx.day)
    if slot is None:
        return True
    late = gestation_on(ctx, doe_id, ctx.day) >= ctx.rules["late_day"]
    return late or slot[0]["phase"][slot[1]] == FRESH


def _say(code: str, **args: Any) -> dict[str, Any]:
    return {"code": code, "args": args}
