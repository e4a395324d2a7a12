"""What the watch reached, in numbers: the chances beside what became of them, and labours nobody was there for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from herd.science.dates.signs import shown_limits

from .watch import HOURS, Kidding, Rounds, herd, in_rounds, watched

BINS = 10
# so many different does in a bin: looks at one doe come true together
ENOUGH = 150
FIXED_H = 4.0
HALVINGS = 20
# Below the fixed rounds, or nobody could come too late for them.
LIMIT_H = 2.0


@dataclass(frozen=True)
class Bin:
    """Looks at which a chance about as high was said: how high, how often it came true, how many looks and does."""

    said: float
    came: float
    looks: int
    does: int


@dataclass(frozen=True)
class Calibration:
    """One of the three chances: its bins, and its mean square error beside that of her dates alone."""

    hours: int
    bins: tuple[Bin, ...]
    brier: float
    by_dates: float

    @property
    def farthest(self) -> float:
        """The bin that is farthest off, of those with does enough."""
        return max(abs(one.said - one.came) for one in self.bins if one.does >= ENOUGH)


@dataclass(frozen=True)
class Labours:
    """Looks to a kidding, and the share of labours that went on longer than the limit before somebody came."""

    looks: float
    alone: float


def calibrations(rounds: Sequence[Rounds]) -> list[Calibration]:
    return [_calibration(hours, place, rounds) for place, hours in enumerate(HOURS)]


def _calibration(hours: int, place: int, rounds: Sequence[Rounds]) -> Calibration:
    said = [(doe, look) for doe, one in enumerate(rounds) for look in one.said]
    ours, dates = (np.clip([look[part][place] for _, look in said], *shown_limits()) for part in (1, 2))
    came = np.array([look[0] <= hours for _, look in said], dtype=float)
    bins, does = np.minimum((ours * BINS).astype(int), BINS - 1), np.array([doe for doe, _ in said])
    found = [
        Bin(float(ours[here].mean()), float(came[here].mean()), int(here.sum()), len(set(does[here])))
        for here in (bins == n for n in range(BINS))
        if here.any()
    ]
    return Calibration(hours, tuple(found), float(((ours - came) ** 2).mean()), float(((dates - came) ** 2).mean()))


def labours(rounds: Sequence[Rounds], limit_h: float = LIMIT_H) -> Labours:
    return Labours(
        float(np.mean([one.looks for one in rounds])), float(np.mean([one.alone_h > limit_h for one in rounds]))
    )


def same_looks(does: Sequence[Kidding], looks: float) -> tuple[float, list[Rounds]]:
    """Fixed rounds with as many looks, and how far apart they are."""
    low, high = 0.5, 12.0
    for _ in range(HALVINGS):
        every_h = (low + high) / 2
        made = [in_rounds(doe, every_h) for doe in does]
        low, high = (every_h, high) if labours(made).looks > looks else (low, every_h)
    return every_h, made


def report(seed: int, does: int, limit_h: float = LIMIT_H) -> str:
    """The table."""
    made = list(herd(seed, does))
    ours = [watched(doe, limit_h) for doe in made]
    lines = [f"{len(made)} kiddings watched, limit on a labour nobody is there for: {limit_h:g} h"]
    for one in calibrations(ours):
        bins = "  ".join(f"{each.said:.2f}>{each.came:.2f} ({each.looks})" for each in one.bins)
        off = f"within {one.hours} h: farthest {one.farthest:.3f}, Brier {one.brier:.4f}, by dates {one.by_dates:.4f}"
        lines += [off, f"  {bins}"]
    found = labours(ours, limit_h)
    every_h, fixed = same_looks(made, found.looks)
    for name, rounds in (
        ("our looks", ours),
        (f"as many, every {every_h:.2f} h", fixed),
        (f"every {FIXED_H:g} h", [in_rounds(doe, FIXED_H) for doe in made]),
    ):
        of = labours(rounds, limit_h)
        lines.append(f"{name}: {of.looks:.1f} looks a doe, {100 * of.alone:.1f} % of labours alone for longer")
    return "\n".join(lines)
