"""Selenium or copper given twice within the time that one gift lasts: nobody gives more before the vet was asked."""

from __future__ import annotations

from typing import Any

from .context import Context, days_between

APART = (("selenium", "selenium_apart_d", 180), ("copper", "copper_apart_d", 365))
SAID_D = 14


def doubled(ctx: Context, doe_id: str) -> dict[str, Any] | None:
    """{"mineral", "within_d", "given": [{"ev", "on", "product", "author"}]}, selenium first, or None."""
    for mineral, rule, usual in APART:
        within = ctx.rules.get(rule, usual)
        given = [
            {name: one[name] for name in ("ev", "on", "product", "author")}
            for one in ctx.view["does"][doe_id]["treatments"]
            if mineral in one["carries"] and one["on"] <= ctx.day and days_between(one["on"], ctx.day) <= within
        ]
        if len(given) > 1:
            return {"mineral": mineral, "within_d": within, "given": given}
    return None


def mineral_word(ctx: Context, found: dict[str, Any] | None) -> dict[str, Any] | None:
    """Said for a fortnight after the last gift; her page shows it for as long as it counts."""
    if not found:
        return None
    last = max(one["on"] for one in found["given"])
    args = {"mineral": found["mineral"], "on": last, "n": len(found["given"])}
    return {"code": "mineral_doubled", "args": args} if days_between(last, ctx.day) <= SAID_D else None
