"""A left meal, a refusal, a slow morning or a doe that is not up: how urgent by her stage, and when to look again.

The grid of stages and hours is judgement (common practice, no source). It never waits for sums, scores or a plan.
"""

from __future__ import annotations

from typing import Any

from .context import Context, days_between
from .feed_classes import FORAGE, is_grain
from .needs import last_score
from .off_feed_case import Case, case_of
from .off_feed_stage import stage_of

URGENCY = ("watch", "now", "vet_today", "vet_now")
CODES = ("off_feed_watch", "off_feed_now", "off_feed_vet", "off_feed_vet")
WATCH, NOW, VET_TODAY, VET_NOW = range(4)
# left some or slow, refused, down
GRID = {
    "early": (WATCH, WATCH, VET_TODAY),
    "late": (WATCH, NOW, VET_NOW),
    "last_weeks": (NOW, VET_TODAY, VET_NOW),
    "labour": (NOW, VET_TODAY, VET_NOW),
    "fresh": (NOW, VET_TODAY, VET_NOW),
    "peak": (WATCH, NOW, VET_NOW),
    "milk": (WATCH, NOW, VET_NOW),
    "open": (WATCH, WATCH, VET_TODAY),
    "doeling": (WATCH, WATCH, VET_TODAY),
    "buck": (WATCH, NOW, VET_NOW),
}
CLOSE = ("last_weeks", "labour", "fresh")
BEFORE_KIDDING = ("last_weeks", "labour")
HOUR_MS = 3_600_000
RECHECK = {
    "vet": ("recheck_h_vet", 1),
    "close": ("recheck_h_close", 4),
    "late": ("recheck_h_late", 4),
    "early": ("recheck_h_early", 12),
}
SCORE_HOLDS_D, FAT_X100 = 45, 375
MANY_KIDS, OLD_D, OLD_KIDDINGS = 3, 8 * 365, 6


def off_feed_word(ctx: Context, doe_id: str) -> dict[str, Any] | None:
    """The case still open for her: {"code", "args", "looked": the last look or None}, or None.

    args: how, on, slot, left_pm of the last meal, what she left ("grain", "hay", "all", ""), stage, meals, urgency,
    down, since_ms, recheck_ms (when to look again), vet_ms (when the vet was called, 0) and ev, the entry to answer.
    """
    case = case_of(ctx, doe_id)
    if case is None:
        return None
    stage, last = stage_of(ctx, doe_id), case.last
    level = _level(ctx, doe_id, case, stage)
    called = case.vet_ms > 0
    args = {key: last[key] for key in ("on", "slot", "left_pm", "ev")}
    args["how"] = "not_up" if case.down else last["how"]
    args |= {"stage": stage, "meals": len(case.meals), "what": _what(ctx, case), "down": case.down}
    args |= {"urgency": "called" if called else URGENCY[level], "since_ms": case.since_ms, "vet_ms": case.vet_ms}
    args["recheck_ms"] = case.clock_ms + _recheck_h(ctx, stage, WATCH if called else level) * HOUR_MS
    looked = case.looks[-1] if case.looks else None
    return {"code": "off_feed_now" if called else CODES[level], "args": args, "looked": looked}


def _level(ctx: Context, doe_id: str, case: Case, stage: str) -> int:
    how, results = case.last["how"], [look["result"] for look in case.looks]
    refused = how == "refused"
    level = GRID[stage][2 if case.down else 1 if refused else 0]
    if refused and (stage in BEFORE_KIDDING and _at_risk(ctx, doe_id) or stage in CLOSE and len(case.meals) > 1):
        level = VET_NOW
    if len(case.meals) > 1:
        level = max(level, NOW)
    level = max(level, _found(ctx, doe_id, case)) + results.count("same")
    if "worse" in results:
        level = max(level + 1, VET_TODAY)
    return min(level, VET_NOW)


def _found(ctx: Context, doe_id: str, case: Case) -> int:
    """A tight left side or a cold udder cannot wait. Nor can no cud, or no dung; with both the gut stands still."""
    seen = [row[7] for row in ctx.view["does"][doe_id]["checkups"] if row[1] >= case.since_ms]
    parts = ("belly", "udder", "cud", "dung")
    last = {key: next((one[key] for one in reversed(seen) if one[key]), "") for key in parts}
    if last["belly"] == "tight" or last["udder"] == "cold":
        return VET_NOW
    return (WATCH, NOW, VET_TODAY)[(last["cud"], last["dung"]).count("none")]


def _at_risk(ctx: Context, doe_id: str) -> bool:
    """Three kids or more, fat, old, or sick like this before: by what was recorded of her alone."""
    doe, score = ctx.view["does"][doe_id], last_score(ctx, doe_id)
    f, kids = doe["f"], doe["check"]["kids"] if doe["bred"] and doe["check"] else 0
    held = score is not None and score[0] <= ctx.rules.get("score_holds_d", SCORE_HOLDS_D)
    fat = held and score is not None and score[1] >= ctx.rules.get("score_fat_x100", FAT_X100)
    old = bool(f.get("born_on")) and days_between(str(f["born_on"]), ctx.day) >= OLD_D
    before = f.get("kiddings_before")
    many = doe["kiddings"] + (before if isinstance(before, int) else 0) >= OLD_KIDDINGS
    had = f.get("had_toxemia") is True or f.get("had_milk_fever") is True
    return kids >= MANY_KIDS or fat or old or many or had


def _what(ctx: Context, case: Case) -> str:
    """What she left of the last meal, where it was said of a feed: grain goes first, hay next."""
    found = set[str]()
    for one in case.meals[-1]:
        feed = ctx.feed(one["feed"]) if one["feed"] else None
        if is_grain(feed):
            found.add("grain")
        elif feed and feed["class"] in FORAGE:
            found.add("hay")
        elif not one["feed"] and one["how"] == "refused":
            found |= {"grain", "hay"}
    return "all" if len(found) > 1 else "".join(found)


def _recheck_h(ctx: Context, stage: str, level: int) -> int:
    """By her stage, and sooner where the vet is to come: the shorter of the two."""
    places = ["close" if stage in CLOSE else "late" if stage == "late" else "early"]
    places += ["close"] if level >= VET_TODAY else []
    places += ["vet"] if level >= VET_NOW else []
    return min(ctx.rules.get(rule, usual) for rule, usual in map(RECHECK.__getitem__, places))
