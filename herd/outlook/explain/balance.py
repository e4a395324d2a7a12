"""Need and supply day by day over the week, their sums, and the two weeks ahead along the plan."""

from __future__ import annotations

from typing import Any

from ..evaluate import FarmDay
from .words import NAMES, UNITS, heading, permille, table

WEEK_D = 7


def week_rows(farm: FarmDay, doe_id: str, nutrient: str) -> list[list[Any]]:
    """[date, need, got, possibly more, permille, "confirmed" or why it does not count] for the days the week counts."""
    rows = []
    for day in farm.ask("week_days", doe_id, nutrient):
        on, need, got = day["on"], day["need"], day["got"]
        extra = farm.ask("day_sums", doe_id, on, False)["extra"][nutrient]
        word = "confirmed" if day["counts"] else "not confirmed: does not count"
        rows.append([on, need, got, extra, permille(got, need), word])
    return rows


def balance_text(farm: FarmDay, doe_id: str, nutrient: str) -> list[str]:
    """The week as a table, then the sums over seven and three days that the verdict used."""
    unit = UNITS[nutrient]
    head = ["day", f"need {unit}", f"eaten {unit}", "unknown, at most", "permille", ""]
    lines = [*heading(f"Balance of {NAMES[nutrient]}"), *table([head, *week_rows(farm, doe_id, nutrient)])]
    sums: list[list[Any]] = []
    for days in (WEEK_D, 3):
        total = farm.ask("window", doe_id, days)
        need, got, extra = (total[part][nutrient] for part in ("need", "got", "extra"))
        word = f"over {total['days']} confirmed of the last {days} days"
        sums.append([f"{days} days", need, got, extra, permille(got, need) if total["days"] else 0, word])
    return [*lines, *table(sums)]


def ahead_text(farm: FarmDay, doe_id: str, nutrient: str) -> list[str]:
    """Each planned day: need, supply along the plan, and the state the look ahead gave it."""
    rows: list[list[Any]] = [["day", f"need {UNITS[nutrient]}", f"planned {UNITS[nutrient]}", "permille", ""]]
    for on, said in farm.ask("ahead_days", doe_id, nutrient):
        if said is None:
            rows.append([on, "", "", "", "past what was compiled"])
        else:
            rows.append([on, said["need"], said["got"], permille(said["got"], said["need"]), said["st"]])
    return [*heading("Ahead, along the plan"), *table(rows)]
