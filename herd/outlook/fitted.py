"""Thresholds of energy prompts that were fitted on simulated farms: herd rules, as they stand where a book has none."""

from __future__ import annotations

from .context import Context

FITTED = {
    "milk_slack_pm": 200,
    "short_clear_pm": 50,
    "short_again_pm": 100,
    "feed_fell_pm": 120,
    "ahead_clear_pm": 150,
    "over_near_pm": 50,
    "over_dried_pm": 40,
    "over_ends_d": 10,
    "late_clear_pm": 30,
    "late_ahead_clear_pm": 120,
    "late_many_clear_pm": 70,
    "cut_eaten_pm": 120,
}


def fitted(ctx: Context, name: str) -> int:
    """The herd rule's value; our default where the book is older than the rule."""
    return ctx.rules.get(name, FITTED[name])
