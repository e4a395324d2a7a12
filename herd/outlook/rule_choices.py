"""Herd rules for which published systems differ: which value of the rule is which documented choice."""

from __future__ import annotations

from typing import NamedTuple

from herd.science.base.alternatives import Alternative, alternative


class Choice(NamedTuple):
    """A value of a herd rule and the choice it stands for in herd/science/base/alternatives.py."""

    value: int
    of: str
    choice: str


# our default first; a rule that is a plain number also takes values between
CHOICES: dict[str, tuple[Choice, ...]] = {
    "maintenance_system": (Choice(0, "maintenance", "luo2004"), Choice(1, "maintenance", "gfe2003")),
    "late_floor_system": (Choice(0, "late_floor", "litter"), Choice(1, "late_floor", "gfe2003")),
    "calcium_absorption_pm": (
        Choice(400, "calcium_absorption", "inra"),
        Choice(300, "calcium_absorption", "meschy"),
        Choice(450, "calcium_absorption", "nrc2007"),
    ),
    "calcium_before_kidding": (
        Choice(0, "pre_kidding_calcium", "to_need"),
        Choice(1, "pre_kidding_calcium", "hold"),
        Choice(2, "pre_kidding_calcium", "lower"),
    ),
    "close_up_before_d": (
        Choice(21, "close_up_before", "usual"),
        Choice(14, "close_up_before", "short"),
        Choice(30, "close_up_before", "month"),
        Choice(42, "close_up_before", "long"),
    ),
}
HOLD, VETS_RULE = 1, 2


def documented(rule: str, value: int) -> Alternative | None:
    """The published choice a value of a herd rule stands for; None for a value of the farm's own."""
    found = [choice for choice in CHOICES.get(rule, ()) if choice.value == value]
    return alternative(found[0].of, found[0].choice) if found else None
