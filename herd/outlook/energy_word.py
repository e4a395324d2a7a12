"""When her energy is worth a prompt, and what bears it out. The thresholds were fitted on simulated farms."""

from __future__ import annotations

from typing import Any

from .balance import enough_days, gestation_on, permille, window
from .context import Context, days_between, shift
from .energy import clear_of, energy_state, floor_on, over_is_past
from .fitted import fitted
from .needs import last_score, milk_on
from .surety import centred, energy_band
from .witness import WEEK_D, less_feed, observed, same_stage, witness

# a shortfall farther ahead is shown, not said
SAID_D = 7


def energy_word(ctx: Context, doe_id: str, line: dict[str, Any]) -> tuple[str, str]:
    """What the energy line calls for and what bears it out.

    ("" or "short", "over", "heading_short", "heading_over", "score_her"; "sums", "last_week", a witness or "").
    From the late day on a short line needs a witness besides the sums; without one an old score asks for a new one.
    """
    state, ahead = line["st"], line["ahead"]
    if state == "unknown":
        return "", ""
    if _over(ctx, doe_id, line):
        return "over", ""
    by = _short_by(ctx, doe_id, line) if state == "short" else ""
    if by:
        return "short", by
    word, by = _ahead_word(ctx, doe_id, ahead, state) if ahead else ("", "")
    if word:
        return word, by
    asks = state == "short" or (ahead is not None and ahead["st"] == "short")
    return ("score_her" if asks and _score_her(ctx, doe_id, ahead) else ""), ""


def _over(ctx: Context, doe_id: str, line: dict[str, Any]) -> bool:
    """Over and not near late; a milker where the band is clear of need. It stands until she is back at need."""
    if over_is_past(ctx, doe_id, ctx.day) or line["st"] == "short":
        return False
    if milk_on(ctx, doe_id, ctx.day):
        return bool(line["st"] == "over" and line["sure"])
    if line["st"] == "over" or centred(ctx, line["pm"]) <= 1000 or not same_stage(ctx, doe_id):
        return bool(line["st"] == "over")
    before = window(ctx, doe_id, WEEK_D, WEEK_D)
    pm = permille(before["got"]["me"], before["need"]["me"])
    then = shift(ctx.day, -WEEK_D)
    return enough_days(ctx, before) and energy_state(ctx, doe_id, before, pm, then) == "over"


def _short_by(ctx: Context, doe_id: str, line: dict[str, Any]) -> str:
    """What bears out a short week: its band wholly below need, something seen, less feed, or a week before as short."""
    floor, week = floor_on(ctx, doe_id, ctx.day), window(ctx, doe_id, WEEK_D)
    if floor:
        least = floor * max(1, week["days"]) * (1000 - fitted(ctx, "late_clear_pm"))
        return witness(ctx, doe_id, week["got"]["me"] * 1000 < least)
    edge = clear_of(ctx, doe_id, ctx.day)
    if line["hi"] < edge:
        return "sums"
    seen = observed(ctx, doe_id)
    return seen or (_again(ctx, doe_id, edge) if line["hi"] < edge + fitted(ctx, "short_again_pm") else "")


def _again(ctx: Context, doe_id: str, edge: int) -> str:
    """Less feed than the week before; or that week was short beyond doubt, so that a prompt does not flicker."""
    if less_feed(ctx, doe_id):
        return "less_feed"
    before = window(ctx, doe_id, WEEK_D, WEEK_D)
    same = same_stage(ctx, doe_id) and enough_days(ctx, before)
    return "last_week" if same and energy_band(ctx, before)[1] < edge else ""


def _ahead_word(ctx: Context, doe_id: str, ahead: dict[str, Any], state: str) -> tuple[str, str]:
    late = gestation_on(ctx, doe_id, ahead["on"]) >= ctx.rules["late_day"]
    if ahead["st"] == "over":
        return ("heading_over", "") if state == "level" and not over_is_past(ctx, doe_id, ahead["on"]) else ("", "")
    by = witness(ctx, doe_id)
    said = days_between(ctx.day, ahead["on"]) <= SAID_D and (by or not late)
    return ("heading_short", by) if said else ("", "")


def _score_her(ctx: Context, doe_id: str, ahead: dict[str, Any] | None) -> bool:
    """Nobody has seen anything, and the last score is too old to tell."""
    days = [ctx.day, *([ahead["on"]] if ahead else [])]
    late = any(gestation_on(ctx, doe_id, on) >= ctx.rules["late_day"] for on in days)
    score = last_score(ctx, doe_id)
    old = score is None or score[0] > ctx.rules["score_fresh_d" if late else "score_holds_d"]
    return old and not witness(ctx, doe_id)
