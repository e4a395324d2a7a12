"""The adopted plan: what each pen and doe is to get in a slot on a date."""

from __future__ import annotations

from typing import Any

from herd.state.doe_state import pen_on
from herd.state.rations import amount_on

from .context import SLOTS, Context, days_between, shift
from .feed_classes import is_grain
from .freeze import held_amount
from .weighed import old_since

Line = list[Any]


def plan_lines(ctx: Context, pen: str, on: str, slot: str) -> list[Line]:
    """[[doe id or "" for shared, feed, grams]] for a pen, shared lines first, then each doe's own."""
    lines = [["", feed, g] for feed, g in subject_lines(ctx, pen, on, slot)]
    for doe_id in ctx.pen_mates(pen, on) if pen not in ctx.view["does"] else []:
        lines += [[doe_id, feed, g] for feed, g in subject_lines(ctx, doe_id, on, slot)]
    return lines


def subject_lines(ctx: Context, subject: str, on: str, slot: str) -> list[tuple[str, int]]:
    """[(feed, grams)] planned for one doe or one pen. An amount under question stays at what was last fed."""
    found = []
    for ration in ctx.plans.get(subject, []):
        if ration["slot"] == slot:
            g = _amount(ctx, ration, on)
            if g > 0:
                found.append((ration["feed"], g))
    return found


def _amount(ctx: Context, ration: dict[str, Any], on: str) -> int:
    """Grams on a date. From today on an amount under question is what was last fed, or the smaller of the two."""
    subject, slot, feed = ration["subject"], ration["slot"], ration["feed"]
    sides = ctx.asked.get(f"{subject}|{slot}|{feed}")
    if sides is None or on < ctx.day:
        return _by_steps(ctx, ration, on)
    g = _last_fed(ctx, subject, slot, feed) or min(amount_on(steps, on) for steps in sides)
    return held_amount(ctx, ration, on, g)


def _last_fed(ctx: Context, subject: str, slot: str, feed: str) -> int:
    for back in range(8):
        on = shift(ctx.day, -back)
        for feeding in reversed(ctx.feedings.get(on, [])):
            for to, what, g in feeding["lines"]:
                if feeding["slot"] == slot and what == feed and (to or feeding["subject"]) == subject:
                    return int(g)
    return 0


def has_plan(ctx: Context, doe_id: str, on: str) -> bool:
    """Whether any ration line reaches her, her own or her pen's."""
    pen = pen_on(ctx.view["does"][doe_id], on)
    return any(subject_lines(ctx, who, on, slot) for who in (doe_id, pen) if who for slot in SLOTS)


def planned_slots(ctx: Context, doe_id: str, on: str) -> set[str]:
    """Slots in which something is planned for her."""
    pen = pen_on(ctx.view["does"][doe_id], on)
    return {slot for slot in SLOTS for who in (doe_id, pen) if who and subject_lines(ctx, who, on, slot)}


def next_step(ctx: Context, doe_id: str, within_d: int) -> list[Any] | None:
    """[date, feed, grams now, grams then] of the next change in her own lines, or None."""
    found: list[list[Any]] = []
    held = ctx.view["does"][doe_id]["freeze"]
    thaws = [shift(held["until"], 1)] if held and held["until"] >= ctx.day else []
    for ration in ctx.plans.get(doe_id, []):
        for on in {*(step[0] for step in ration["steps"]), *thaws}:
            if ctx.day < on and days_between(ctx.day, on) <= within_d:
                now, then = (_by_steps(ctx, ration, when) for when in (shift(on, -1), on))
                found += [[on, ration["feed"], now, then]] if now != then else []
    return min(found) if found else None


def raise_waiting(ctx: Context, doe_id: str, within_d: int) -> list[Any] | None:
    """[date, feed, grams it stays at, grams wanted] of the first of her own raises that waits for a weight, or None."""
    found: list[list[Any]] = []
    for ration in ctx.plans.get(doe_id, []):
        for on in dict.fromkeys(max(step[0], ctx.day) for step in ration["steps"]):
            if days_between(ctx.day, on) <= within_d:
                now, then = _by_steps(ctx, ration, on), held_amount(ctx, ration, on, amount_on(ration["steps"], on))
                found += [[on, ration["feed"], now, then]] if now < then else []
    return min(found) if found else None


def _by_steps(ctx: Context, ration: dict[str, Any], on: str) -> int:
    g = amount_on(ration["steps"], on)
    return held_amount(ctx, ration, on, _as_weighed(ctx, ration, g) if on >= ctx.day else g)


def _as_weighed(ctx: Context, ration: dict[str, Any], g: int) -> int:
    """No more than before its last weight went old. What starts from nothing starts: only going up waits."""
    since = _old_since(ctx, ration["feed"])
    if not since or not g:
        return g
    before = amount_on(ration["steps"], shift(since, -1))
    first = (amount for on, amount in ration["steps"] if on >= since and amount)
    return min(g, before or next(first, g))


def _old_since(ctx: Context, feed: str) -> str:
    kept: dict[str, str] = ctx.memo.setdefault("old_since", {})
    if feed not in kept:
        kept[feed] = old_since(ctx, feed)
    return kept[feed]


def grain_planned(ctx: Context, doe_id: str, on: str) -> int:
    """Grams as fed of grain planned for her alone on a date."""
    lines = [line for slot in SLOTS for line in subject_lines(ctx, doe_id, on, slot)]
    return sum(g for feed, g in lines if is_grain(ctx.feed(feed)))
