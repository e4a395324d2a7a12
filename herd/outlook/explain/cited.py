"""What ran, as recorded while she was compiled: equations, numbers with their sources, and herd rules as they stand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from importlib import import_module
from typing import Any

from herd.science.parameters import sources, topic

from ..compiling.cites import cited
from ..evaluate import FarmDay
from ..rule_choices import documented
from ..rules import RULES
from .terms import Term
from .words import heading, table

SCIENCE = "herd.science"
# beside the terms of a need: what else of her was worked out, and the words for it
FIGURES = {
    "weight": "weight",
    "litter": "kids",
    "due": "due date",
    "milk": "milk to expect",
    "appetite": "appetite",
    "appetite.milk": "appetite with milk",
    "me.floor": "late floor",
    "condition": "band of condition",
}
Row = list[Any]


def cited_text(farm: FarmDay, doe_id: str, on: str, nutrient: str, terms: Iterable[Term]) -> list[str]:
    """For each term of a need the equations that were called, the parameters and the herd rules that were read."""
    rows: list[Row] = []
    for term in terms:
        names = [name for code in term.codes for name in _recorded(farm, doe_id, on, f"{nutrient}.{code}")]
        here = [name for code in term.codes for name in farm.ask("term_rules", doe_id, on, nutrient, code)]
        rows += _rows(farm, doe_id, term.name, dict.fromkeys([*names, *here]))
    return _once(rows)


def figures_text(farm: FarmDay, doe_id: str, on: str) -> list[str]:
    """What ran for her weight, kids, dates, milk and appetite."""
    rows: list[Row] = []
    for code, word in FIGURES.items():
        rows += _rows(farm, doe_id, word, _recorded(farm, doe_id, on, code))
    return [*heading("What ran for the rest of her"), *_once(rows)]


def _recorded(farm: FarmDay, doe_id: str, on: str, code: str) -> list[str]:
    return cited(farm.outlooks[doe_id]["cites"], code, farm.ask("branch_at", doe_id, on))


def _rows(farm: FarmDay, doe_id: str, word: str, names: Iterable[str]) -> Iterator[Row]:
    for name in names:
        if name.count(".") > 1:
            yield [word, name, "", "", "", _summary(name)]
        elif "." in name:
            yield [word, *_parameter(name)]
        else:
            yield [word, *_rule(name, farm.outlooks[doe_id]["cites"]["rules"].get(name, farm.rules.get(name)))]


def _once(rows: list[Row]) -> list[str]:
    """A citation stands beside the first thing it ran for."""
    first = {row[1]: row for row in reversed(rows)}
    return table([row for row in rows if first[row[1]] is row], left=2)


def _summary(name: str) -> str:
    module, function = name.rsplit(".", 1)
    return str(getattr(import_module(f"{SCIENCE}.{module}"), function).__doc__).split("\n")[0]


def _parameter(name: str) -> Row:
    where, key = name.split(".")
    entry = topic(where)[key]
    return [name, f"{entry.value:g}", entry.unit, entry.standing, f"{entry.where} ({sources()[entry.source]['title']})"]


def _rule(name: str, value: int | None) -> Row:
    rule = RULES[name]
    value = rule.default if value is None else value
    chosen = documented(name, value)
    source = f"{chosen.where} ({sources()[chosen.source]['title']})" if chosen else rule.source
    own = "" if value == rule.default else f"this farm's rule; our default {rule.default}; "
    return [name, str(value), rule.unit, "herd rule", f"{own}{source}"]
