"""Which compiled branch holds for a doe on a date, chosen from what has been recorded since it was compiled."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from .codes import PHASES
from .context import SCHEMA, Context, days_between

Slot = tuple[dict[str, Any], int]
DRY, WATCH, FRESH, IN_MILK, GROWING = map(PHASES.index, ("dry", "kidding_watch", "fresh", "in_milk", "growing"))


def standing(ctx: Context, doe_id: str) -> str:
    """How her outlook stands: ok, no_outlook, update_needed, withheld, waiting (a change is not sent), stale, buck."""
    if is_buck(ctx.view["does"][doe_id]):
        return "buck"
    outlook = ctx.outlooks.get(doe_id)
    if outlook is None:
        return "no_outlook"
    if outlook["schema"] != SCHEMA or ctx.book["schema"] != SCHEMA:
        return "update_needed"
    if outlook["withheld"] and not outlook["branches"]:
        return "withheld"
    doe, basis = ctx.view["does"][doe_id], outlook["basis"]
    branch = branch_name(doe, outlook)
    if branch not in outlook["branches"] or (branch == "as_is" and bred_key(doe) != basis["bred"]):
        return "waiting"
    return "ok" if slot_for(ctx, doe_id, ctx.day) else "stale"


def is_buck(doe: Mapping[str, Any]) -> bool:
    """A buck has no ration advice and no season; what makes no sense for him is recorded and changes nothing."""
    return bool(doe["f"].get("sex") == "buck")


def branch_name(doe: dict[str, Any], outlook: dict[str, Any]) -> str:
    """The branch her recorded state now calls for."""
    basis = outlook["basis"]
    kidded = doe["kidded"]["on"] if doe["kidded"] else ""
    if kidded != basis["kidded"]:
        born = min(max(doe["kidded"]["born"], 1), 3) if kidded else 0
        since = doe["dried_on"] or bred_key(doe)
        return f"kidded{born}" if kidded and not since else "none"
    if bred_key(doe) != basis["bred"]:
        return "open" if not doe["bred"] and basis["bred"] and doe["dried_on"] == basis["dried"] else "none"
    if doe["dried_on"] != basis["dried"]:
        return "dry" if doe["dried_on"] else "none"
    return "as_is"


def bred_key(doe: dict[str, Any]) -> str:
    """The service her dates hang on, as text."""
    return f"{doe['bred']['from']}/{doe['bred']['to']}" if doe["bred"] else ""


def slot_for(ctx: Context, doe_id: str, on: str) -> Slot | None:
    """(branch, index) for a date, or None outside what was compiled. Days before a change keep the state she was in."""
    outlook = ctx.outlooks.get(doe_id)
    doe = ctx.view["does"][doe_id]
    if outlook is None or outlook["schema"] != SCHEMA or is_buck(doe):
        return None
    name = branch_name(doe, outlook)
    if name.startswith("kidded") and on >= doe["kidded"]["on"]:
        return _within(outlook, name, days_between(doe["kidded"]["on"], on))
    changed_on = doe["dried_on"] if name == "dry" else doe["check"]["on"] if name == "open" and doe["check"] else ""
    if name not in ("dry", "open") or on < changed_on:
        name = "as_is"
    return _within(outlook, name, days_between(outlook["day0"], on))


def _within(outlook: dict[str, Any], name: str, index: int) -> Slot | None:
    branch = outlook["branches"].get(name)
    return (branch, index) if branch and 0 <= index < len(branch["phase"]) else None
