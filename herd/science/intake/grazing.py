"""Pasture and browse as light, half or full: a guess, and it says how wide."""

from __future__ import annotations

from dataclasses import dataclass

from ..base.record import equation
from ..base.validity import check
from ..parameters import values

P = values("grazing")
AMOUNTS = ("light", "half", "full")


@dataclass(frozen=True)
class Guess:
    """An amount nobody weighed: kg with one standard deviation as permille of it."""

    dm_kg: float
    spread_pm: int

    @property
    def sd_kg(self) -> float:
        """One standard deviation [kg DM]."""
        return self.dm_kg * self.spread_pm / 1000


@equation
def grazed(amount: str, appetite_kg: float) -> Guess:
    """Dry matter a doe took on pasture or browse.

    Equation: light 0.25, half 0.50, full 0.85 of her appetite; spread 50, 35, 20 %

    Parameters
    ----------
    amount : one of AMOUNTS
    appetite_kg : scalar [kg DM/d], 0 to 8, what she can eat in all

    Returns
    -------
    Guess [kg DM]

    Raises
    ------
    OutOfRange : appetite_kg outside its range
    KeyError : an amount not listed

    Validity
    --------
    Nobody has measured it on this ground; her condition and her hay tell in a fortnight whether it was right.

    References
    ----------
    judgement
    """
    check(dmi_kg=appetite_kg)
    return Guess(P[f"{amount}_share"] * appetite_kg, round(P[f"{amount}_spread_pm"]))
