"""Points, their direction, and what changes them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ..parameters import values

P = values("risk")
BANDS = ("outside", "low", "alert", "urgent")
STANDING = "judgement"


@dataclass(frozen=True)
class Factor:
    """One thing that raises or lowers a risk; today says whether the keeper can change it today."""

    code: str
    points: int
    today: bool = False

    @property
    def direction(self) -> str:
        """ "raises" or "lowers"."""
        return "raises" if self.points > 0 else "lowers"


@dataclass(frozen=True)
class Risk:
    """A score with its band, factors gravest first, what to change, what to find out, and whether a sign overrules it.

    Standing: judgement on documented directions, not validated. by_sign says that a sign or a reading calls the vet
    whatever the points are.
    """

    score: int
    band: str
    factors: tuple[Factor, ...]
    change: Factor | None
    find_out: tuple[str, ...]
    by_sign: bool
    standing: str = STANDING


def points(code: str) -> int:
    """Points of a factor by its parameter name."""
    return round(P[code])


def weighed(factors: Iterable[Factor], find_out: Sequence[str], by_sign: bool) -> Risk:
    """Factors as a risk.

    Equation: sum of points; alert from 3, urgent from 5 or by a sign

    Parameters
    ----------
    factors : what raises or lowers it
    find_out : what is not known and could change it, most telling first
    by_sign : a sign or a reading calls the vet by itself

    Returns
    -------
    Risk; change is the factor with most points that can be changed today, None when there is none

    References
    ----------
    judgement
    """
    present = tuple(sorted((f for f in factors if f.points), key=lambda f: (-f.points, f.code)))
    score = max(0, sum(factor.points for factor in present))
    change = next((factor for factor in present if factor.today and factor.points > 0), None)
    return Risk(score, _band(score, by_sign), present, change, tuple(find_out), by_sign)


def outside() -> Risk:
    """The risk of a doe who is not in the window at all: no score, and no all-clear."""
    return Risk(0, "outside", (), None, (), False)


def _band(score: int, by_sign: bool) -> str:
    if by_sign or score >= P["urgent_from"]:
        return "urgent"
    return "alert" if score >= P["alert_from"] else "low"
