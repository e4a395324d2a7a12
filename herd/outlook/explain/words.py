"""How the explanation is written: units, columns, numbers in groups."""

from __future__ import annotations

from typing import Any

UNITS = {"me": "kJ", "cp": "mg", "ca": "mg", "p": "mg"}
NAMES = {"me": "energy (ME)", "cp": "crude protein", "ca": "calcium", "p": "phosphorus"}
CONTENT = {
    "me": ("me_kj_kg", "kJ/kg", "me_mcal_per_kg_dm"),
    "cp": ("cp_ug_g", "ug/g", "cp_pct_dm"),
    "ca": ("ca_ug_g", "ug/g", "ca_pct_dm"),
    "p": ("p_ug_g", "ug/g", "p_pct_dm"),
}


def number(value: float) -> str:
    """A number with its thousands apart."""
    whole = f"{value:,.0f}" if isinstance(value, int) else f"{value:,.4g}" if abs(value) < 1000 else f"{value:,.0f}"
    return whole.replace(",", " ")


def permille(got: int, need: int) -> int:
    """Supply per thousand of need; level when nothing is needed."""
    return got * 1000 // need if need > 0 else 1000


def heading(title: str) -> list[str]:
    """A blank line and a title; what belongs to it is set in."""
    return ["", title]


def table(rows: list[list[Any]], left: int = 1) -> list[str]:
    """Rows in columns: the first `left` and the last one flush left, numbers between flush right."""
    cells = [[cell if isinstance(cell, str) else number(cell) for cell in row] for row in rows]
    widths = [max(len(row[i]) for row in cells) for i in range(len(cells[0]))] if cells else []
    return ["  " + "  ".join(_pad(cell, widths, i, left) for i, cell in enumerate(row)).rstrip() for row in cells]


def _pad(cell: str, widths: list[int], i: int, left: int) -> str:
    flush_left = i < left or i == len(widths) - 1
    return cell.ljust(widths[i]) if flush_left else cell.rjust(widths[i])
