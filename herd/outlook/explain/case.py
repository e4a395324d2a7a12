"""Her open case, held grain, the daily tap and minerals given twice, as the prompt saw them."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from .words import heading


def case_text(result: dict[str, Any]) -> list[str]:
    """One or two lines each; nothing at all where there is none of it."""
    lines = [*_case(result), *_freeze(result["freeze"]), *_daily(result), *_doubled(result["doubled"])]
    return [*heading("Off feed, held grain, minerals"), *lines] if lines else []


def _case(result: dict[str, Any]) -> list[str]:
    word = result["off_feed"]
    if not word:
        return []
    args, looked = word["args"], word["looked"]
    left = f", left {args['what']}" if args["what"] else ""
    lines = [
        f"  off feed since {_at(args['since_ms'])}: {args['how']}{left}, meals {args['meals']}, stage {args['stage']}",
        f"  urgency {args['urgency']} by the grid of stages, judgement; look again by {_at(args['recheck_ms'])}",
    ]
    if looked:
        lines.append(f"  last look {_at(looked['happened'])}: {looked['result'] or 'no result yet'}")
    return [*lines, "  down: no amount is spoken of"] if result["down"] else lines


def _freeze(held: dict[str, Any] | None) -> list[str]:
    if not held:
        return []
    what = "grain out" if held["grain_out"] else "no grain raise"
    return [f"  {what} from {held['since']} to {held['until']}, days left {held['days_left']}: the plan is read so"]


def _daily(result: dict[str, Any]) -> list[str]:
    said = ", ".join(slot or "some time" for slot in result["tapped"]) or "not yet"
    return [f"  looked at daily, since she gets no grain near kidding; today: {said}"] if result["daily"] else []


def _doubled(found: dict[str, Any] | None) -> list[str]:
    if not found:
        return []
    given = ", ".join(f"{one['product']} on {one['on']}" for one in found["given"])
    return [f"  {found['mineral']} more than once in {found['within_d']} days: {given}"]


def _at(ms: int) -> str:
    return datetime.fromtimestamp(ms / 1000, UTC).strftime("%Y-%m-%d %H:%M UTC")
