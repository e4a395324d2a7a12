"""Kiddings whose truth is not ours: other lead times, wider spreads, signs that come together, kids by day, keepers who
overlook and mistake.

Ours takes each sign by itself, with the medians of our own table, and any hour as likely. Here
there are three kinds of farms, a third of the does on each: on some signs come late and near the birth, on some near
our medians, on some early and very wide, where a sign says little. Everywhere spreads are wider than ours, seven tenths
of a lead is the doe's own (one who is early with her ligaments is early with all), fewer does show each sign, mistaken
calls are more frequent and last half a day, a sign that is there is overlooked at one look of twelve, the length of
gestation spreads wider, and two kiddings of three fall between ten and eight.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from math import exp, log

# of each kind of farm: median hours before the first kid, spread of its log, share that shows it, mistakes a day
Shape = tuple[float, float, float, float]
FARMS: tuple[dict[str, Shape], ...] = (
    {
        "teats_strutted": (14.0, 0.90, 0.60, 0.05),
        "ligaments_gone": (11.0, 0.90, 0.80, 0.06),
        "mucus_amber": (3.0, 1.20, 0.50, 0.02),
        "pawing": (2.5, 1.20, 0.80, 0.08),
    },
    {
        "teats_strutted": (27.0, 1.02, 0.65, 0.06),
        "ligaments_gone": (13.0, 0.98, 0.80, 0.08),
        "mucus_amber": (5.5, 1.35, 0.55, 0.02),
        "pawing": (3.2, 1.30, 0.80, 0.10),
    },
    {
        "teats_strutted": (36.0, 1.20, 0.70, 0.08),
        "ligaments_gone": (26.0, 1.10, 0.85, 0.10),
        "mucus_amber": (8.0, 1.40, 0.60, 0.04),
        "pawing": (8.0, 1.30, 0.80, 0.15),
    },
)
SIGNS = tuple(FARMS[0])
SHARED = 0.7
OVERLOOKED = 1 / 12
MISTAKE_LASTS_H = 12.0
LENGTH_D, LENGTH_SD_D = 150.3, 3.2
# labour begins so long before the first kid
PUSHING_H, PUSHING_SPREAD = 0.6, 0.6
BY_DAY, DAY_H = 0.67, (10.0, 20.0)


@dataclass
class Kidding:
    """One doe: hours count from the midnight that begins the day she was bred; `first` places fixed rounds in them."""

    kid_h: float
    labour_h: float
    farm: dict[str, Shape]
    shown_h: dict[str, float]
    dice: random.Random
    first: float

    def look(self, at_h: float) -> list[str]:
        """The signs somebody finds at a look."""
        return [sign for sign in SIGNS if self._found(sign, at_h)]

    def _found(self, sign: str, at_h: float) -> bool:
        there = at_h >= self.shown_h[sign] and self.dice.random() >= OVERLOOKED
        return there or self._mistaken(sign, at_h)

    def _mistaken(self, sign: str, at_h: float) -> bool:
        """A mistaken call holds for the half day it was made in, whoever looks."""
        half_days = int(at_h / MISTAKE_LASTS_H)
        chance = self.farm[sign][3] * MISTAKE_LASTS_H / 24
        return random.Random(f"{self.kid_h}{sign}{half_days}").random() < chance


def kidding(seed: int, kind: int | None = None, length_d: float = LENGTH_D) -> Kidding:
    """One of a number: the same for the same seed. `kind`: all of one kind of farm; `length_d`: how long they carry."""
    dice = random.Random(seed)
    day = int(dice.gauss(length_d, LENGTH_SD_D))
    low, high = DAY_H
    hour = dice.uniform(low, high) if dice.random() < BY_DAY else (high + dice.uniform(0, 24 - high + low)) % 24
    kid_h = 24 * day + hour
    own = dice.gauss(0, 1)
    farm, shown = FARMS[seed % len(FARMS) if kind is None else kind], dict[str, float]()
    for sign, (median_h, spread, shows, _) in farm.items():
        z = SHARED * own + (1 - SHARED**2) ** 0.5 * dice.gauss(0, 1)
        lead_h = exp(log(median_h) + spread * z)
        shown[sign] = kid_h - lead_h if dice.random() < shows else float("inf")
    return Kidding(kid_h, kid_h - PUSHING_H * exp(PUSHING_SPREAD * dice.gauss(0, 1)), farm, shown, dice, dice.random())
