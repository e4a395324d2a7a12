"""A left meal, a refusal, a slow morning or a doe that is not up, weighed by her stage."""

from __future__ import annotations

from typing import Any

from .balance import gestation_on
from .branches import slot_for
from .context import Context, days_between, shift

WATCH_HOWS = ("left_some", "refused", "slow", "not_up")
LAST_WEEKS_D = 28


def off_feed_word(ctx: Context, doe_id: str) -> dict[str, Any] | None:
    """The off-feed prompt still open for her: {"code", "args"}, or None. It never waits for sums or scores."""
    open_ones = _open(ctx, doe_id)
    if not open_ones:
        return None
    last = open_ones[-1]
    stage = stage_of(ctx, doe_id)
    args = {key: last[key] for key in ("how", "on", "slot", "left_pm")} | {"stage": stage, "meals": len(open_ones)}
    return {"code": _code(last["how"], stage, len(open_ones)), "args": args}


def _code(how: str, stage: str, meals: int) -> str:
    close = stage in ("last_weeks", "labour", "fresh")
    if how == "not_up" or (close and how == "refused" and meals >= 2):
        return "off_feed_vet"
    if close or (how == "refused" and stage in ("late", "milk")) or meals >= 2:
        return "off_feed_now"
    return "off_feed_watch"


def _open(ctx: Context, doe_id: str) -> list[dict[str, Any]]:
    """Her open exceptions of the last two days; a later "ate all", or a later clean feeding of her own, closes them."""
    found: list[dict[str, Any]] = []
    closed_at = 0
    for on in (shift(ctx.day, -1), ctx.day):
        for intake in ctx.intakes.get(on, []):
            if intake["subject"] == doe_id and intake["how"] == "ate_all":
                closed_at = max(closed_at, intake["happened"])
            elif intake["subject"] == doe_id and intake["how"] in WATCH_HOWS:
                found.append(intake)
    found.sort(key=lambda intake: (intake["happened"], intake["ev"]))
    meals: dict[str, dict[str, Any]] = {}
    for intake in found:
        if intake["happened"] > closed_at:
            meals[f"{intake['on']}|{intake['slot']}"] = intake
    last = list(meals.values())
    return [] if last and _fed_clean_since(ctx, doe_id, last[-1]) else last


def _fed_clean_since(ctx: Context, doe_id: str, intake: dict[str, Any]) -> bool:
    for on in (shift(ctx.day, -1), ctx.day):
        for feeding in ctx.feedings.get(on, []):
            later = feeding["happened"] > intake["happened"] and f"{on}|{feeding['slot']}" != _meal(intake)
            if later and any(to == doe_id for to, _, _ in feeding["lines"]):
                return True
    return False


def _meal(intake: dict[str, Any]) -> str:
    return f"{intake['on']}|{intake['slot']}"


def stage_of(ctx: Context, doe_id: str) -> str:
    """ "labour", "last_weeks", "late", "early", "fresh", "milk" or "open": by compiled phase and dates only."""
    slot = slot_for(ctx, doe_id, ctx.day)
    if slot is None:
        return _stage_without_outlook(ctx, doe_id)
    phase = slot[0]["phase"][slot[1]]
    if phase == 7:
        return "labour"
    gest = gestation_on(ctx, doe_id, ctx.day)
    if gest >= 0 and phase not in (8, 9):
        due = ctx.outlooks[doe_id]["due"]
        if days_between(ctx.day, due["early"]) <= LAST_WEEKS_D:
            return "last_weeks"
        return "late" if gest >= ctx.rules["late_day"] else "early"
    return {8: "fresh", 9: "milk"}.get(phase, "open")


def _stage_without_outlook(ctx: Context, doe_id: str) -> str:
    """By calendar alone, on the careful side: a bred doe counts as near her time from day 115."""
    doe = ctx.view["does"][doe_id]
    if doe["bred"]:
        day = days_between(doe["bred"]["from"], ctx.day)
        return "last_weeks" if day >= 115 else "late" if day >= 100 else "early"
    fresh = doe["kidded"] and days_between(doe["kidded"]["on"], ctx.day) <= 21
    return "fresh" if fresh else "milk" if doe["kidded"] and not doe["dried_on"] else "open"
