"""Adding up an element over everything that brings it. What is unknown stays unknown: the sum is then "at least"."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..base.errors import MissingInput
from .portions import WATER, Portion


@dataclass(frozen=True)
class Total:
    """One element in a day's diet: what is known, from where, and who could not say."""

    element: str
    known: float
    sources: tuple[tuple[str, float], ...]
    unknown: tuple[str, ...]

    @property
    def at_least(self) -> bool:
        """Whether something eaten has no figure for this element."""
        return bool(self.unknown)

    @property
    def nothing_known(self) -> bool:
        """Whether no source had a figure."""
        return not self.sources


def total(element: str, portions: Iterable[Portion]) -> Total:
    """An element over all sources.

    Parameters
    ----------
    element : one of ELEMENTS, or "ca"
    portions : what goes in on one day

    Returns
    -------
    Total [mg/d, IU/d of a vitamin], sources largest first
    """
    sources: list[tuple[str, float]] = []
    unknown: list[str] = []
    for portion in portions:
        if element in portion.skips:
            continue
        brought = portion.brings(element)
        if brought is None:
            unknown.append(portion.name)
        elif portion.amount > 0:
            sources.append((portion.name, brought))
    sources.sort(key=lambda source: (-source[1], source[0]))
    return Total(element, sum(amount for _, amount in sources), tuple(sources), tuple(unknown))


def dry_matter_kg(portions: Iterable[Portion]) -> float:
    """Dry matter of all that is eaten.

    Parameters
    ----------
    portions : what goes in on one day

    Returns
    -------
    scalar [kg DM/d]

    Raises
    ------
    MissingInput : nothing is eaten
    """
    eaten = sum(portion.amount for portion in portions if portion.kind != WATER)
    if eaten <= 0:
        raise MissingInput("dm_kg")
    return eaten
