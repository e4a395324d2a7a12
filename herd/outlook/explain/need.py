"""The need as text: each term with its equation's numbers, then every parameter with its source and standing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..evaluate import FarmDay
from .cited import cited_text
from .terms import need_terms
from .words import NAMES, UNITS, heading, number, table


def need_text(
    farm: FarmDay, doe_id: str, doe: Mapping[str, Any], rules: Mapping[str, int], on: str, nutrient: str
) -> list[str]:
    """Terms, their sum as the balance used it, and what each rests on."""
    dm_g = sum(farm.ask("eaten_on", doe_id, on)["dm"].values())
    terms = need_terms(farm, doe_id, doe, rules, on, nutrient, dm_g)
    used = farm.ask("need_on", doe_id, on, dm_g)
    if used is None:
        return [*heading(f"Need of {NAMES[nutrient]}"), f"  {on} lies outside what was compiled: no amounts"]
    rows: list[list[Any]] = [[term.name, term.value, term.how] for term in terms]
    rows.append(["together", used[nutrient], f"{UNITS[nutrient]} a day, as the balance used it"])
    lines = [*heading(f"Need of {NAMES[nutrient]} on {on}, {UNITS[nutrient]} a day"), *table(rows)]
    return [*lines, *heading("What that rests on: what ran"), *cited_text(farm, doe_id, on, nutrient, terms)]


def appetite_text(farm: FarmDay, doe_id: str, on: str) -> list[str]:
    """What she can be expected to eat, and late the floor she can physically eat to."""
    compiled = farm.ask("compiled_on", doe_id, on)
    if compiled is None:
        return []
    per, fcm_g = farm.outlooks[doe_id]["drivers"]["appetite_g_per_kg_fcm"], farm.ask("fcm_on", doe_id, on)
    all_g, base_g = number(farm.ask("appetite_on", doe_id, on)), number(compiled["appetite_g"])
    of_milk = f", and {per} g per kg of {number(fcm_g)} g milk at 4 % fat" if fcm_g else ""
    lines = [*heading(f"Appetite and floor on {on}"), f"  {all_g} g dry matter: {base_g} by weight and stage{of_milk}"]
    return [*lines, *_floor_text(farm, compiled["floor_me_kj"], compiled["preg_me_kj"])]


def _floor_text(farm: FarmDay, floor_kj: int, pregnancy_kj: int) -> list[str]:
    if not floor_kj:
        return [f"  no floor before day {farm.rules['late_day']} of gestation: the whole need counts"]
    if farm.rules["late_floor_system"] == 1:
        return [
            f"  floor {number(floor_kj)} kJ, and only below it is she short: the lower of what she can eat at the",
            "  densest and the German month 5, 600 kJ per kg metabolic weight whatever her litter",
        ]
    share, litter = farm.rules["floor_share_pm"], number(pregnancy_kj)
    part = number(pregnancy_kj * share // 1000)
    return [
        f"  floor {number(floor_kj)} kJ, and only below it is she short: the lower of what she can eat at the densest",
        f"  and low maintenance plus {share / 10:g} % of her litter's {litter} kJ, which is {part} kJ",
    ]
