"""Published values and how far our equations are from them.

Three kinds of table, never mixed: read (a number seen in a published source), derived (worked by hand from read
equations, so it checks our arithmetic only), memory (recalled or judged, arithmetic only too).
"""

from __future__ import annotations

import csv
import json
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
TABLES = HERE / "tables"
KINDS = {
    "read": {"READ", "READ_SECONDARY"},
    "derived": {"DERIVED_FROM_READ"},
    "memory": {"MEMORY", "DERIVED_FROM_MEMORY", "EXPERT", "DERIVED_FROM_EXPERT"},
}
SLACK = 1e-9

Equation = Callable[..., float]


@dataclass(frozen=True)
class Row:
    """One published value; rounding is half of the source's own last printed digit."""

    id: str
    kind: str
    what: str
    inputs: Mapping[str, Any]
    quantity: str
    printed: str
    units: str
    rounding: float
    source: str
    standing: str

    @property
    def value(self) -> float:
        return float(self.printed)

    def gap(self, equations: Mapping[str, Equation]) -> float:
        """Ours less the published value."""
        return float(equations[self.what](**self.inputs)) - self.value

    def holds(self, gap: float) -> bool:
        return abs(gap) <= self.rounding + SLACK


@dataclass(frozen=True)
class Outside:
    """A row we do not meet: the gap as recorded, half of the record's last digit, and why."""

    id: str
    gap: float
    rounding: float
    reason: str


def half_last_digit(text: str) -> float:
    """Half a unit of the last digit written."""
    decimals = len(text.partition(".")[2])
    return 0.5 * 10.0**-decimals


@cache
def rows(kind: str) -> tuple[Row, ...]:
    return tuple(_row(kind, line) for path in sorted((TABLES / kind).glob("*.csv")) for line in _lines(path))


@cache
def outside() -> Mapping[str, Outside]:
    lines = _lines(TABLES / "outside.csv")
    return {line["id"]: _outside(line) for line in lines}


@cache
def sources() -> Mapping[str, Mapping[str, str]]:
    return tomllib.loads((HERE / "sources.toml").read_text(encoding="utf-8"))


def _lines(path: Path) -> list[dict[str, str]]:
    with path.open(newline="", encoding="utf-8") as text:
        return list(csv.DictReader(text))


def _row(kind: str, line: dict[str, str]) -> Row:
    inputs, rounding = json.loads(line["inputs"]), float(line["rounding"])
    about = {key: line[key] for key in ("id", "what", "quantity", "units", "source", "standing")}
    return Row(kind=kind, inputs=inputs, printed=line["value"], rounding=rounding, **about)


def _outside(line: dict[str, str]) -> Outside:
    return Outside(line["id"], float(line["gap"]), half_last_digit(line["gap"]), line["reason"])
