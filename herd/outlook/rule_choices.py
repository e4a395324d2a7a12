"""Herd rules for which published systems differ: which value of the rule is which documented choice."""

from __future__ import annotations

from typing import Any, NamedTuple

from herd.science.base.alternatives import Alternative, alternative

from .rules import ROWS


class Choice(NamedTuple):
    """A value of a herd rule and the choice it stands for in herd/science/base/alternatives.py."""

    value: int
    of: str
    choice: str


def _choices(row: dict[str, Any]) -> tuple[Choice, ...]:
    found = [Choice(value, row["of"], choice) for choice, value in row["choices"].items()]
    return tuple(sorted(found, key=lambda one: one.value != row["default"]))


# our default first; a rule that is a plain number also takes values between
CHOICES: dict[str, tuple[Choice, ...]] = {name: _choices(row) for name, row in ROWS.items() if "choices" in row}
VETS_RULE: int = ROWS["calcium_before_kidding"]["choices"]["lower"]


def documented(rule: str, value: int) -> Alternative | None:
    """The published choice a value of a herd rule stands for; None for a value of the farm's own."""
    found = [choice for choice in CHOICES.get(rule, ()) if choice.value == value]
    return alternative(found[0].of, found[0].choice) if found else None
