"""How her week's energy stands against need, and from where a planned day is clear enough to be told."""

from __future__ import annotations

from typing import Any

from .balance import gestation_on, permille
from .branches import DRY, FRESH, Slot, slot_for
from .context import Context
from .fitted import fitted
from .needs import held_through, last_score
from .surety import centred, energy_band, sure
from .witness import stage

MANY_X100 = 250


def energy_state(ctx: Context, doe_id: str, sums: dict[str, Any], pm: int, on: str) -> str:
    """Late: short only below the floor she can eat to. Before: the middle of the band outside what counts as level."""
    floor = floor_on(ctx, doe_id, on)
    if floor:
        return "short" if sums["got"]["me"] < floor * max(1, sums["days"]) else "level"
    slot, seen = slot_for(ctx, doe_id, on), centred(ctx, pm)
    if seen < 1000 - ctx.rules["level_pm"]:
        return "level" if seen >= 1000 - _slack(ctx, doe_id, slot) else "short"
    return "over" if seen > over_from(ctx, doe_id, slot) else "level"


def floor_on(ctx: Context, doe_id: str, on: str) -> int:
    """The floor she can eat to from the late day on [kJ], 0 before."""
    slot = slot_for(ctx, doe_id, on)
    late = slot is not None and gestation_on(ctx, doe_id, on) >= ctx.rules["late_day"]
    return int(slot[0]["floor_me_kj"][slot[1]]) if slot and late else 0


def _slack(ctx: Context, doe_id: str, slot: Slot | None) -> int:
    """How far under need is level: a fresh doe cannot eat to need, a doe whose fresh score holds does not have to."""
    rules, score = ctx.rules, last_score(ctx, doe_id)
    if slot is not None and slot[0]["phase"][slot[1]] == FRESH:
        return rules["fresh_slack_pm"]
    holds = score is not None and score[0] <= rules["score_holds_d"] and score[1] >= rules["score_thin_x100"]
    return rules["slight_under_pm"] if holds and score and score[2] < rules["score_fell_x100"] else 0


def over_from(ctx: Context, doe_id: str, slot: Slot | None) -> int:
    """Above which ratio she is over: never soon after dry-off, where feed follows milk down."""
    dried = slot is not None and slot[0]["phase"][slot[1]] == DRY
    least = 1000 + ctx.rules["level_pm"] + fitted(ctx, "over_dried_pm") if dried else 0
    return max(least, _over_by_score(ctx, doe_id, slot))


def _over_by_score(ctx: Context, doe_id: str, slot: Slot | None) -> int:
    """Sooner near the top of her band or rising, later at its foot or where she held."""
    rules, score = ctx.rules, last_score(ctx, doe_id)
    if score is None or slot is None or score[0] > rules["score_holds_d"]:
        return 1000 + rules["level_pm"]
    if score[1] <= slot[0]["band_lo"][slot[1]] or held_through(ctx, doe_id, _near_top(ctx, slot)):
        return 1000 + rules["over_hold_pm"]
    return 1000 + rules["level_pm"] - (fitted(ctx, "over_near_pm") if _fattening(ctx, slot, score) else 0)


def _near_top(ctx: Context, slot: Slot) -> int:
    return int(slot[0]["band_hi"][slot[1]] - ctx.rules["band_slack_x100"])


def _fattening(ctx: Context, slot: Slot, score: tuple[int, int, int]) -> bool:
    return score[1] >= _near_top(ctx, slot) or score[2] <= -ctx.rules["band_slack_x100"]


def clear_of(ctx: Context, doe_id: str, on: str) -> int:
    """Where the band must end for the sums alone to say short: in milk they read low, and a fresh doe goes under."""
    slack = {"fresh": ctx.rules["fresh_slack_pm"], "milk": fitted(ctx, "milk_slack_pm")}
    return 1000 - slack.get(stage(ctx, doe_id, on), fitted(ctx, "short_clear_pm"))


def ahead_stands(
    ctx: Context, doe_id: str, sums: dict[str, Any], pm: int, state: str, on: str, week: dict[str, Any]
) -> bool:
    """Whether a planned day's state is clear enough to be told: the week's doubt is laid about the day's ratio."""
    floor = floor_on(ctx, doe_id, on)
    if floor:
        many = ctx.outlooks[doe_id].get("who", {}).get("litter_x100", 0) >= MANY_X100
        clear = fitted(ctx, "late_many_clear_pm" if many else "late_ahead_clear_pm")
        return bool(sums["got"]["me"] * 1000 < floor * (1000 - clear))
    now = permille(week["got"]["me"], week["need"]["me"]) if week["days"] else 0
    if now <= 0:
        return False
    band = [edge * pm // now for edge in energy_band(ctx, week)]
    if state == "short":
        return band[1] < clear_of(ctx, doe_id, on) - fitted(ctx, "ahead_clear_pm")
    return sure(state, band) and not _holds_over(ctx, doe_id, pm, on)


def over_is_past(ctx: Context, doe_id: str, on: str) -> bool:
    """Whether the late day is so near that her need climbs past it before plainer hay would show."""
    return gestation_on(ctx, doe_id, on) >= ctx.rules["late_day"] - fitted(ctx, "over_ends_d")


def _holds_over(ctx: Context, doe_id: str, pm: int, on: str) -> bool:
    """Whether a fresh score inside her band, and not rising, lets a planned day be somewhat over."""
    slot, score = slot_for(ctx, doe_id, on), last_score(ctx, doe_id)
    if slot is None or score is None or score[0] > ctx.rules["score_holds_d"] or _fattening(ctx, slot, score):
        return False
    return pm <= 1000 + ctx.rules["over_hold_pm"]
