"""Herd rules: this farm's own choices and thresholds, our defaults, their limits and standing, as tables/rules.toml.

A farm changes any of them by a `rules` event.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from .tables import RULES as TABLE


class Rule(NamedTuple):
    """One herd rule: default, unit, lowest and highest allowed value, source and standing."""

    default: int
    unit: str
    low: int
    high: int
    source: str
    standing: str


OFFERED: tuple[str, ...] = tuple(TABLE["offered"])
ROWS: dict[str, dict[str, Any]] = {
    name: row for section in TABLE.values() if isinstance(section, dict) for name, row in section.items()
}
RULES: dict[str, Rule] = {name: Rule(*(row[part] for part in Rule._fields)) for name, row in ROWS.items()}


def rules_of(fields: dict[str, Any]) -> dict[str, int]:
    """Defaults with the farm's own choices over them; a choice outside its limits is ignored."""
    chosen = {name: rule.default for name, rule in RULES.items()}
    for name, value in fields.items():
        rule = RULES.get(name)
        if rule and isinstance(value, int) and not isinstance(value, bool) and rule.low <= value <= rule.high:
            chosen[name] = value
    return chosen
