"""Figures of a report as whole ten-thousandths: 18.25 is 182500. A phone's arithmetic on them comes out the same."""

from __future__ import annotations

import re
from dataclasses import dataclass

ONE = 10_000
HUNDRED = 100 * ONE
WRITTEN = re.compile(r"([0-9]{1,6})(?:[.,]([0-9]{1,4}))?")


@dataclass(frozen=True)
class Figure:
    """A figure as written: its ten-thousandths and half of its last digit, also in ten-thousandths."""

    v: int
    slack: int


def figure(text: str) -> Figure | None:
    """A written figure, with a point or a comma; None when it is no plain number.

    Parameters
    ----------
    text : as typed or printed

    Returns
    -------
    Figure [1/10000] or None
    """
    found = WRITTEN.fullmatch(text.strip())
    if found is None:
        return None
    decimals = found[2] or ""
    v = int(found[1]) * ONE + int(decimals.ljust(4, "0"))
    return Figure(v, max(1, 5 * 10 ** (3 - len(decimals)) if len(decimals) < 4 else 1))


def ratio(value: int, times: int, over: int) -> int:
    """value x times / over, rounded half up; all whole and not negative."""
    return (2 * value * times + over) // (2 * over)


def whole(value: int, per: int) -> int:
    """Ten-thousandths in steps of `per`, rounded half up."""
    return (2 * value + per) // (2 * per)


def ten_thousandths(number: float) -> int:
    """A parameter as whole ten-thousandths."""
    return round(number * ONE)
