"""Need and supply day by day over the week, their sums, and the two weeks ahead along the plan."""

from __future__ import annotations

from typing import Any

from ..balance import confirmed, day_sums, permille, window
from ..context import Context, shift
from ..verdicts import AHEAD_D, day_state
from .words import NAMES, UNITS, heading, table

WEEK_D = 7


def week_rows(ctx: Context, doe_id: str, nutrient: str) -> list[list[Any]]:
    """[date, need, got, possibly more, permille, "confirmed" or why it does not count] for the days the week counts."""
    last = ctx.day if confirmed(ctx, doe_id, ctx.day) else shift(ctx.day, -1)
    rows = []
    for back in range(WEEK_D - 1, -1, -1):
        on = shift(last, -back)
        sums = day_sums(ctx, doe_id, on, False)
        kidded = ctx.view["does"][doe_id]["kidded"]
        if sums is None or (kidded and on < kidded["on"]):
            continue
        need, got, extra = (sums[part][nutrient] for part in ("need", "got", "extra"))
        word = "confirmed" if confirmed(ctx, doe_id, on) else "not confirmed: does not count"
        rows.append([on, need, got, extra, permille(got, need), word])
    return rows


def balance_text(ctx: Context, doe_id: str, nutrient: str) -> list[str]:
    """The week as a table, then the sums over seven and three days that the verdict used."""
    unit = UNITS[nutrient]
    head = ["day", f"need {unit}", f"eaten {unit}", "unknown, at most", "permille", ""]
    lines = [*heading(f"Balance of {NAMES[nutrient]}"), *table([head, *week_rows(ctx, doe_id, nutrient)])]
    sums: list[list[Any]] = []
    for days in (WEEK_D, 3):
        total = window(ctx, doe_id, days)
        need, got, extra = (total[part][nutrient] for part in ("need", "got", "extra"))
        word = f"over {total['days']} confirmed of the last {days} days"
        sums.append([f"{days} days", need, got, extra, permille(got, need) if total["days"] else 0, word])
    return [*lines, *table(sums)]


def ahead_text(ctx: Context, doe_id: str, nutrient: str) -> list[str]:
    """Each planned day: need, supply along the plan, and the state the look ahead gave it."""
    week = window(ctx, doe_id, WEEK_D)
    rows: list[list[Any]] = [["day", f"need {UNITS[nutrient]}", f"planned {UNITS[nutrient]}", "permille", ""]]
    for k in range(1, AHEAD_D + 1):
        on = shift(ctx.day, k)
        sums = day_sums(ctx, doe_id, on, True)
        if sums is None:
            rows.append([on, "", "", "", "past what was compiled"])
            continue
        need, got = sums["need"][nutrient], sums["got"][nutrient]
        rows.append([on, need, got, permille(got, need), day_state(ctx, doe_id, nutrient, sums, on, week)])
    return [*heading("Ahead, along the plan"), *table(rows)]
