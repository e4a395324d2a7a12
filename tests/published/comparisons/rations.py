"""Ration arithmetic every feeding course teaches: as fed and dry matter, gaps, blends, the Pearson square.

Any unit of weight will do as long as one sum keeps to one. Contents are per cent of dry matter unless said.
"""

from __future__ import annotations

from collections.abc import Mapping

from herd.science.base.errors import MissingInput, OutOfRange

WHOLE_PCT = 100


def as_fed(dm: float, dm_pct: float) -> float:
    """Weight as fed that holds this dry matter."""
    return dm * WHOLE_PCT / dm_pct


def dry_matter(fed: float, dm_pct: float) -> float:
    """Dry matter in this weight as fed."""
    return fed * dm_pct / WHOLE_PCT


def held(dm: float, content_pct: float) -> float:
    """Nutrient in this dry matter."""
    return dm * content_pct / WHOLE_PCT


def gap(need: float, supply: float) -> float:
    """What is still short, zero when nothing is."""
    return max(need - supply, 0.0)


def amount_for(nutrient: float, per_unit: float) -> float:
    """Weight of a feed that brings this much of a nutrient."""
    return nutrient / per_unit


def blend_pct(parts: Mapping[str, float], contents: Mapping[str, float | None]) -> float:
    """Content of a mix, over the weight of all its parts.

    Raises
    ------
    MissingInput : a part whose content is unknown; unknown is not zero
    """
    total = 0.0
    for name, part in parts.items():
        content = contents[name]
        if content is None:
            raise MissingInput(name)
        total += part * content
    return total / sum(parts.values())


def rest_must_hold_pct(target_pct: float, share_pct: float, content_pct: float) -> float:
    """Content the remainder of a ration needs when one feed already fills a share of it."""
    return (target_pct * WHOLE_PCT - share_pct * content_pct) / (WHOLE_PCT - share_pct)


def pearson_parts(first_pct: float, second_pct: float, target_pct: float) -> tuple[float, float]:
    """Parts of the first and of the second feed that make the target: each the other's distance from it.

    Raises
    ------
    OutOfRange : the target is not between the two feeds, so no mix reaches it
    """
    low, high = sorted((first_pct, second_pct))
    if not low <= target_pct <= high or low == high:
        raise OutOfRange("target_pct", target_pct, low, high, "pearson_square")
    return abs(second_pct - target_pct), abs(target_pct - first_pct)


def pearson_shares_pct(first_pct: float, second_pct: float, target_pct: float) -> tuple[float, float]:
    """The same as shares of the mix that add up to a hundred."""
    first, second = pearson_parts(first_pct, second_pct, target_pct)
    return WHOLE_PCT * first / (first + second), WHOLE_PCT * second / (first + second)
