"""Points of what raises a risk. All judgement on directions the sources give; not validated."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..parameters import values

P = values("risk")


@dataclass(frozen=True)
class Factor:
    """One thing that raises a risk, by its code."""

    code: str
    points: int


def factor(code: str, parameter: str) -> Factor:
    """A factor with the points its parameter gives it."""
    return Factor(code, round(P[parameter]))


def gravest_first(found: Iterable[Factor]) -> tuple[Factor, ...]:
    """Without those that count nothing."""
    return tuple(sorted((one for one in found if one.points), key=lambda one: (-one.points, one.code)))
