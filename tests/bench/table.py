"""One line of the table, and how the table is printed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from statistics import quantiles


@dataclass(frozen=True)
class Row:
    part: str
    what: str
    value: float
    unit: str
    note: str = ""


def show(rows: Iterable[Row]) -> str:
    lines = [(row.part, row.what, f"{row.value:,.{digits(row.value)}f}", row.unit, row.note) for row in rows]
    widths = [max(len(line[i]) for line in lines) for i in range(3)]
    return "\n".join(
        f"{part:<{widths[0]}}  {what:<{widths[1]}}  {value:>{widths[2]}} {unit:<7} {note}".rstrip()
        for part, what, value, unit, note in lines
    )


def digits(value: float) -> int:
    return 0 if abs(value) >= 100 or value == int(value) else 1 if abs(value) >= 10 else 2


def p95(values: list[float]) -> float:
    return quantiles(values, n=20, method="inclusive")[-1] if len(values) > 1 else values[0]
