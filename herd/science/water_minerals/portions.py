"""What goes in: feeds, mineral products and water, with what each holds of every element; blank is unknown."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ..feeds.library import Feed

MAJORS = ("mg", "k", "na", "cl", "s")
TRACES = ("cu", "zn", "mn", "fe", "co", "i", "se", "mo")
ELEMENTS = (*MAJORS, *TRACES)
FEED, PRODUCT, WATER = "feed", "product", "water"
MG_PER_KG_PER_PCT = 10_000


@dataclass(frozen=True)
class Portion:
    """One source on one day: kg of dry matter (litres for water) and mg per kg (per litre), IU for vitamins.

    skips are elements it holds too little of to count, known or not.
    """

    name: str
    kind: str
    amount: float
    holds: Mapping[str, float | None]
    skips: frozenset[str] = frozenset()

    def brings(self, element: str) -> float | None:
        """Milligrams (IU of a vitamin) this portion brings, None when nobody knows; nothing eaten brings nothing."""
        if self.amount == 0:
            return 0.0
        content = self.holds.get(element)
        return None if content is None else self.amount * content


def holdings(feed: Feed) -> dict[str, float | None]:
    """What a feed of the library holds of every element [mg/kg DM], None where its table is blank.

    Parameters
    ----------
    feed : a feed of the library

    Returns
    -------
    mg/kg DM by element; calcium besides, for the alert that looks at it
    """
    found: dict[str, float | None] = {}
    for element in (*MAJORS, "ca"):
        printed_pct = feed.figures.get(f"{element}_pct_dm")
        found[element] = None if printed_pct is None else printed_pct * MG_PER_KG_PER_PCT
    return {**found, **{element: feed.figures.get(f"{element}_mg_per_kg") for element in TRACES}}
