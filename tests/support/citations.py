"""A doe's citations as text, each beside the call or the term that made it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from herd.outlook.compile import compile_doe
from herd.outlook.compiling.cites import cited
from herd.outlook.rules import RULES
from herd.science.parameters import topic
from tests.support.calls import calls_of


def lines(name: str, doe: Mapping[str, Any], rules: Mapping[str, Any], today: date) -> Iterator[str]:
    """One a citation, of the branch she is in."""
    made = compile_doe(doe, rules, today, "doe")
    if not made["branches"]:
        yield f"{name}: no amounts ({', '.join(held['why'] for held in made['withheld'])})"
        return
    calls, of = calls_of(doe, rules, today), made["cites"]
    for term in sorted({*of["terms"], *of["branches"]["as_is"]}):
        for each in cited(of, term):
            yield f"{name:10} {term:15} {each:52} {_made_by(each, term, calls, of['rules'])}"


def _made_by(each: str, term: str, calls: Mapping[tuple[str, str], set[str]], rules: Mapping[str, int]) -> str:
    if each.count(".") > 1:
        return "; ".join(sorted(calls[term, each]))
    if "." in each:
        where, name = each.split(".")
        known = topic(where)[name]
        return f"= {known.value:g} {known.unit}, {known.standing}, {known.source}"
    default = RULES[each].default
    return f"= {rules[each]}, herd rule" + ("" if rules[each] == default else f" of this farm; our default {default}")
