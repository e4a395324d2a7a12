"""Which thresholds judged her, the state each nutrient was given, and the prompt that came out with its reason."""

from __future__ import annotations

from typing import Any

from ..evaluate import FarmDay
from ..rules import RULES
from .words import NAMES, heading, table

LIMITS = {
    "grain_meal_g": "g dry grain in one meal",
    "grain_day_g": "g dry grain a day, not milking",
    "milk_grain_day_g": "g dry grain a day, milking",
    "step_g": "g dry grain, largest raise",
    "step_days": "days between raises",
    "forage_floor_g": "g dry matter of forage a day, least",
}


def thresholds_text(farm: FarmDay, doe_id: str, nutrient: str) -> list[str]:
    """The herd rules this verdict hangs on, the farm's own marked, and her grain limits."""
    rows: list[list[Any]] = []
    for name in farm.ask("judged_by", doe_id, nutrient):
        rule = RULES[name]
        value = farm.rules.get(name, rule.default)
        word = rule.source if value == rule.default else f"this farm's own; our default is {rule.default}"
        rows.append([name, value, rule.unit, word])
    limits = farm.outlooks[doe_id]["limits"]
    rows += [[name, limits[name], unit, "compiled for her"] for name, unit in LIMITS.items()]
    return [*heading("Thresholds"), *table(rows)]


def condition_text(farm: FarmDay, doe_id: str, band: list[int]) -> list[str]:
    """Her last score against the band for her phase, and the second witness a late prompt needs."""
    score, seen = farm.ask("last_score", doe_id), farm.ask("witness", doe_id) or "none"
    said = "never scored"
    if score:
        said = f"{score['x100'] / 100:g}, {score['age_d']} days ago, {-score['fell'] / 100:+g} since"
    within = f"{band[0] / 100:g} to {band[1] / 100:g}" if band else "none"
    return [*heading("Condition"), f"  {said}; band {within}; witness: {seen}"]


def verdict_text(farm: FarmDay, result: dict[str, Any], nutrient: str) -> list[str]:
    """State of the nutrient, and the one prompt with its rank and what it was told."""
    line = result["lines"].get(nutrient)
    lines = heading("Verdict")
    if line:
        ahead = f"; ahead {line['ahead']['st']} from {line['ahead']['on']}" if line["ahead"] else ""
        least = " (at least: part of it has no known content)" if line["at_least"] else ""
        lines.append(f"  {NAMES[nutrient]}: {line['st']} at {line['pm']} permille over seven days{least}{ahead}")
        if nutrient == "me" and line["loss_g_d"]:
            lines.append(f"  expected body loss {line['loss_g_d']} g a day")
        if nutrient == "ca":
            lines.append(
                f"  the verdict is on {'her' if line['of'] == 'doe' else 'the pen, because her hay is shared'}"
            )
    prompt = result["prompt"]
    if prompt is None:
        return [*lines, "  prompt: none, nothing is due"]
    told = ", ".join(f"{name} {value}" for name, value in prompt["args"].items() if value != "")
    shared = "; said once for the pen" if prompt["in_pen"] else ""
    return [
        *lines,
        f"  prompt: {prompt['code']} (rank {prompt['rank']} of {max(farm.ask('ranks').values())}){shared}",
        f"  because {told}",
    ]
