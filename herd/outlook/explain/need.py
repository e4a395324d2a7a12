"""The need as text: each term with its equation's numbers, then every parameter with its source and standing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from herd.science.parameters import sources, topic

from ..balance import eaten_on
from ..branches import slot_for
from ..context import Context
from ..needs import appetite_on, fcm_on, need_on
from .terms import Key, Term, need_terms
from .words import NAMES, UNITS, heading, number, table


def need_text(
    ctx: Context, doe_id: str, doe: Mapping[str, Any], rules: Mapping[str, int], on: str, nutrient: str
) -> list[str]:
    """Terms, their sum as the balance used it, and what each rests on."""
    dm_g = sum(eaten_on(ctx, doe_id, on)["dm"].values())
    terms = need_terms(ctx, doe_id, doe, rules, on, nutrient, dm_g)
    used = need_on(ctx, doe_id, on, dm_g)
    if used is None:
        return [*heading(f"Need of {NAMES[nutrient]}"), f"  {on} lies outside what was compiled: no amounts"]
    rows: list[list[Any]] = [[term.name, term.value, term.how] for term in terms]
    rows.append(["together", used[nutrient], f"{UNITS[nutrient]} a day, as the balance used it"])
    lines = [*heading(f"Need of {NAMES[nutrient]} on {on}, {UNITS[nutrient]} a day"), *table(rows)]
    return [*lines, *heading("What that rests on"), *table(basis_rows(terms), left=2)]


def basis_rows(terms: list[Term]) -> list[list[Any]]:
    """[term, parameter, value, unit, standing, source and place] for every parameter once."""
    rows: list[list[Any]] = []
    seen: set[Key] = set()
    for term in terms:
        for key in term.keys:
            if key not in seen:
                seen.add(key)
                rows.append([term.name, *_parameter(key)])
    return rows


def _parameter(key: Key) -> list[Any]:
    entry = topic(key[0])[key[1]]
    title = sources()[entry.source]["title"]
    return [".".join(key), f"{entry.value:g}", entry.unit, entry.standing, f"{entry.where} ({title})"]


def appetite_text(ctx: Context, doe_id: str, on: str) -> list[str]:
    """What she can be expected to eat, and late the floor she can physically eat to."""
    slot = slot_for(ctx, doe_id, on)
    if slot is None:
        return []
    branch, i = slot
    per, fcm_g = ctx.outlooks[doe_id]["drivers"]["appetite_g_per_kg_fcm"], fcm_on(ctx, doe_id, on)
    all_g, base_g = number(appetite_on(ctx, doe_id, on)), number(branch["appetite_g"][i])
    of_milk = f", and {per} g per kg of {number(fcm_g)} g milk at 4 % fat" if fcm_g else ""
    lines = [*heading(f"Appetite and floor on {on}"), f"  {all_g} g dry matter: {base_g} by weight and stage{of_milk}"]
    return [*lines, *_floor_text(ctx, branch["floor_me_kj"][i], branch["preg_me_kj"][i])]


def _floor_text(ctx: Context, floor_kj: int, pregnancy_kj: int) -> list[str]:
    if not floor_kj:
        return [f"  no floor before day {ctx.rules['late_day']} of gestation: the whole need counts"]
    if ctx.rules["late_floor_system"] == 1:
        return [
            f"  floor {number(floor_kj)} kJ, and only below it is she short: the lower of what she can eat at the",
            "  densest and the German month 5, 600 kJ per kg metabolic weight whatever her litter",
        ]
    share, litter = ctx.rules["floor_share_pm"], number(pregnancy_kj)
    part = number(pregnancy_kj * share // 1000)
    return [
        f"  floor {number(floor_kj)} kJ, and only below it is she short: the lower of what she can eat at the densest",
        f"  and low maintenance plus {share / 10:g} % of her litter's {litter} kJ, which is {part} kJ",
    ]
