"""The only door from the services to the compiler, so that it is imported once, late, and can be told apart."""

from __future__ import annotations

from datetime import date
from functools import cache
from typing import Any


@cache
def science_version() -> str:
    """The version compiled outlooks name, or "" while this build has no compiler."""
    try:
        from herd.outlook.compile import SCIENCE
    except ImportError:
        return ""
    return str(SCIENCE)


def herd_rules(own: dict[str, Any]) -> dict[str, Any]:
    """Every herd rule: the farm's own choices over the defaults."""
    from herd.outlook import rules

    merge = getattr(rules, "effective_rules", None) or getattr(rules, "rules_of")
    return {**own, **merge(own)}


def compile_doe(doe_view: dict[str, Any], rules: dict[str, Any], today: date, doe_id: str) -> dict[str, Any]:
    from herd.outlook.compile import compile_doe

    return dict(compile_doe(doe_view, rules, today, doe_id))


def compile_book(view: dict[str, Any]) -> dict[str, Any]:
    from herd.outlook.book import compile_book

    return dict(compile_book(view))
