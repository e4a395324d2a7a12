"""The one place that says what an argument may be."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

import numpy as np

from .arrays import Num
from .errors import OutOfRange

TABLE = Path(__file__).parents[1] / "ranges.toml"


@dataclass(frozen=True)
class Range:
    """Allowed values of one argument; source is a key of sources.toml."""

    unit: str
    low: float
    high: float
    source: str
    where: str
    standing: str


@cache
def ranges() -> Mapping[str, Range]:
    """Every argument's range by name."""
    return read_ranges(TABLE)


def read_ranges(table: Path) -> Mapping[str, Range]:
    """The ranges of one table by argument."""
    entries = tomllib.loads(table.read_text(encoding="utf-8"))
    return MappingProxyType({name: Range(**entry) for name, entry in entries.items()})


def check(**arguments: Num) -> None:
    """Raise OutOfRange for the first argument (by keyword name) outside its range, or not a number."""
    for name, value in arguments.items():
        hold(name, value, ranges()[name])


def hold(name: str, value: Num, limits: Range) -> None:
    """Raise OutOfRange where any of it lies outside the limits, or is not a number."""
    if not _within(value, limits):
        flat = np.atleast_1d(np.asarray(value, dtype=np.float64))
        bad = flat[~((flat >= limits.low) & (flat <= limits.high))]
        raise OutOfRange(name, float(bad[0]), limits.low, limits.high, limits.source)


def _within(value: Num, limits: Range) -> bool:
    """Whether all of it lies inside; the ends alone are looked at, for this is asked some hundred times a doe."""
    if isinstance(value, float | int):
        return limits.low <= value <= limits.high
    days = np.asarray(value, dtype=np.float64)
    # not a number spreads to both ends, and no comparison with it is true
    return not days.size or bool(days.min() >= limits.low and days.max() <= limits.high)
