"""Where each nutrient stands and where it is heading: short, level, over, or unknown."""

from __future__ import annotations

from typing import Any

from .balance import add, blank_feeds, day_sums, enough_days, no_sums, permille, window
from .context import NUTRIENTS, Context, days_between, shift
from .energy import ahead_stands, energy_state
from .plan import has_plan
from .rule_choices import HOLD, VETS_RULE
from .surety import band_of, sure

AHEAD_D = 14
LATE_CALCIUM_D = 28
HOLD_MOST_PM = 3000  # herd/science/parameters/alternatives.toml, pre_kidding_calcium__hold


def lines_for(ctx: Context, doe_id: str) -> dict[str, Any]:
    """{nutrient: line} over seven days with the three-day ratio, the state, and the date it leaves its band."""
    week, three = window(ctx, doe_id, 7), window(ctx, doe_id, 3)
    known = enough_days(ctx, week)
    lines: dict[str, Any] = {}
    for key in NUTRIENTS:
        pm, pm3 = (permille(t["got"][key], t["need"][key]) if t["days"] else 0 for t in (week, three))
        hi = permille(week["got"][key] + week["extra"][key], week["need"][key]) if week["days"] else 0
        lines[key] = {"need": week["need"][key], "got": week["got"][key], "days": week["days"], "pm": pm, "pm3": pm3}
        state = state_of(ctx, doe_id, key, week, pm, ctx.day) if known else "unknown"
        if known and hi != pm and state != state_of(ctx, doe_id, key, week, hi, ctx.day):
            state = "unknown"
        band = band_of(ctx, key, week)
        lines[key] |= {"st": state, "at_least": week["extra"][key] > 0, "ahead": None, "lo": band[0], "hi": band[1]}
        lines[key]["sure"] = sure(state, band)
        lines[key]["blank"] = blank_feeds(ctx, week, key)
    lines["me"]["loss_g_d"] = _loss(ctx, week)
    lines["ca"]["per_p_x100"] = week["got"]["ca"] * 100 // week["got"]["p"] if week["got"]["p"] else 0
    lines["ca"]["of"] = "doe" if own_calcium(ctx, doe_id, week) else "pen"
    look_ahead(ctx, doe_id, lines, week)
    return lines


def fibre_line(ctx: Context, doe_id: str) -> dict[str, Any]:
    """Fibre (NDF) per kg dry matter and forage a day over seven days; low when even the most it could be is low."""
    week = window(ctx, doe_id, 7)
    known = enough_days(ctx, week) and week["dm"] > 0
    ndf_pm = week["ndf_g"] * 1000 // week["dm"] if week["dm"] else 0
    state = "unknown" if not known else "low" if ndf_pm < ctx.rules["ndf_low_pm"] else "level"
    return {"ndf_pm": ndf_pm, "forage_g": week["forage_g"] // max(1, week["days"]), "st": state}


def _loss(ctx: Context, week: dict[str, Any]) -> int:
    gap = week["need"]["me"] - week["got"]["me"]
    return int(max(0, gap) * 1000 // ctx.rules["loss_kj_per_kg"] // week["days"]) if week["days"] else 0


def own_calcium(ctx: Context, doe_id: str, week: dict[str, Any]) -> bool:
    """Her own verdict only where enough of her feed is hers alone, or she is alone in the pen."""
    alone = len(ctx.pen_mates(ctx.view["does"][doe_id]["pen"], ctx.day)) <= 1
    return alone or week["own"] * 1000 >= week["dm"] * ctx.rules["own_share_pm"]


def state_of(ctx: Context, doe_id: str, key: str, sums: dict[str, Any], pm: int, on: str) -> str:
    """The state of one nutrient at a ratio, by the herd rules for her day and lane."""
    if key == "me":
        return energy_state(ctx, doe_id, sums, pm, on)
    if key == "ca":
        return calcium_state(ctx, doe_id, sums, pm, on)
    return "short" if pm < 1000 - ctx.rules["protein_pm" if key == "cp" else "calcium_pm"] else "level"


def late_calcium(ctx: Context, doe_id: str, on: str) -> bool:
    """Within 28 days of her earliest due date."""
    due = ctx.outlooks[doe_id]["due"] if ctx.view["does"][doe_id]["bred"] else None
    return due is not None and days_between(on, due["early"]) <= LATE_CALCIUM_D


def calcium_state(ctx: Context, doe_id: str, sums: dict[str, Any], pm: int, on: str) -> str:
    """Never sharper than the rule's band; in the last 28 days by the herd's rule for them, and over far above need."""
    late, rule = late_calcium(ctx, doe_id, on), ctx.rules.get("calcium_before_kidding", 0)
    tight = late and rule != VETS_RULE
    if pm < 1000 - ctx.rules["calcium_late_pm" if tight else "calcium_pm"]:
        return "short"
    rich = rule == VETS_RULE or dense(sums["got"]["ca"], sums["dm"]) > ctx.rules["calcium_dense_ug_g"]
    most = HOLD_MOST_PM if rule == HOLD else 1000 + ctx.rules["calcium_pm"]
    return "over" if late and rich and pm > most else "level"


def dense(mg: int, dm_g: int) -> int:
    """Micrograms per gram of dry matter; 0 when nothing was eaten."""
    return mg * 1000 // dm_g if dm_g else 0


def look_ahead(ctx: Context, doe_id: str, lines: dict[str, Any], week: dict[str, Any]) -> None:
    """Along the adopted plan, the first date on which a nutrient leaves its band for two days running."""
    planned = has_plan(ctx, doe_id, ctx.day) or has_plan(ctx, doe_id, shift(ctx.day, AHEAD_D))
    for key in NUTRIENTS if planned else ():
        run = ""
        for k in range(1, AHEAD_D + 1):
            on = shift(ctx.day, k)
            sums = day_sums(ctx, doe_id, on, True)
            state = day_state(ctx, doe_id, key, sums, on, week) if sums else "level"
            if state == "level" or state == "unknown":
                run = ""
            elif run == state:
                lines[key]["ahead"] = {"st": state, "on": shift(on, -1)}
                break
            else:
                run = state


def day_state(ctx: Context, doe_id: str, key: str, sums: dict[str, Any], on: str, week: dict[str, Any]) -> str:
    """State of one planned day; unknown when composition we do not have could change it."""
    one = {**sums, "days": 1}
    pm = permille(sums["got"][key], sums["need"][key])
    state = state_of(ctx, doe_id, key, one, pm, on)
    if key == "me" and state in ("short", "over") and not ahead_stands(ctx, doe_id, sums, pm, state, on, week):
        return "level"
    if sums["extra"][key]:
        more = {**one, "got": {**sums["got"], key: sums["got"][key] + sums["extra"][key]}}
        if state != state_of(ctx, doe_id, key, more, permille(more["got"][key], sums["need"][key]), on):
            return "unknown"
    held = ctx.rules.get("calcium_before_kidding", 0) != VETS_RULE
    if key == "ca" and held and late_calcium(ctx, doe_id, on) and week["days"]:
        # per dry matter, so that a fall in appetite alone is no swing
        usual, then = (dense(part["got"]["ca"], part["dm"]) for part in (week, sums))
        if then * 1000 < usual * (1000 - ctx.rules["calcium_pm"]) and pm < ctx.rules["calcium_swing_pm"]:
            return "short"
    return state


def pen_calcium(ctx: Context, does: list[str]) -> str:
    """The shared feeder's verdict: calcium eaten by the whole pen against what its does need."""
    total = no_sums()
    states = []
    for doe_id in does:
        week = window(ctx, doe_id, 7)
        if enough_days(ctx, week):
            add(total, week)
            states.append(doe_id)
    if not states:
        return "unknown"
    pm = permille(total["got"]["ca"], total["need"]["ca"])
    hi = permille(total["got"]["ca"] + total["extra"]["ca"], total["need"]["ca"])
    low = 1000 - ctx.rules["calcium_pm"]
    if pm < low <= hi:
        return "unknown"
    return "short" if pm < low else "level"
