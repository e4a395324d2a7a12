"""Ration sums and the feed library, as the extension pages work them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from herd.science.feeds.library import feeds
from herd.science.feeds.sprouts import Grain, sprout
from tests.published.comparisons import rations


def _library_blend(parts: dict[str, float], column: str) -> float:
    """Content of a diet over all of its hundred parts: at least this much, what is unknown left out."""
    known = {feed: part for feed, part in parts.items() if column in feeds()[feed].figures}
    return sum(rations.held(part, feeds()[feed].figures[column]) for feed, part in known.items())


def _tray(day: int, field: str) -> Any:
    return getattr(
        sprout(Grain(dm_pct=90, cp_pct=12.5, tdn_pct=84, ndf_pct=18.1, adf_pct=5.8, p_pct=0.37), 1, day), field
    )


def _blend(shares: list[float], contents: list[float]) -> float:
    names = [str(place) for place in range(len(shares))]
    return rations.blend_pct(dict(zip(names, shares, strict=True)), dict(zip(names, contents, strict=True)))


def _for_gap(need: float, supply: float, per_kg: float) -> float:
    return rations.amount_for(rations.gap(need, supply), per_kg)


RATIONS: Mapping[str, Any] = {
    "as_fed": rations.as_fed,
    "share_of_weight": lambda bw_kg, pct: rations.held(bw_kg, pct),
    "nutrient_in": lambda dm_kg, per_kg: rations.held(dm_kg, 100 * per_kg),
    "nutrient_in_as_fed": lambda as_fed, dm_pct, pct_of_dm: rations.held(rations.dry_matter(as_fed, dm_pct), pct_of_dm),
    "cost_per_unit": lambda price, as_fed, dm_pct, pct_of_dm: (
        price / rations.held(rations.dry_matter(as_fed, dm_pct), pct_of_dm)
    ),
    "shortfall": rations.gap,
    "feed_for_gap": _for_gap,
    "as_fed_for_gap": lambda need, supply, per_kg_dm, dm_pct: (
        1000 * rations.as_fed(_for_gap(need, supply, per_kg_dm), dm_pct)
    ),
    "blend_share": lambda share_pct, content_pct: rations.held(share_pct, content_pct),
    "blend_pct": _blend,
    "content_of_the_rest": lambda target_pct, share_pct, content_pct: rations.rest_must_hold_pct(
        target_pct, share_pct, content_pct
    ),
    "pearson_first_part": lambda first, second, target: rations.pearson_parts(first, second, target)[0],
    "pearson_second_part": lambda first, second, target: rations.pearson_parts(first, second, target)[1],
    "pearson_first_pct": lambda first, second, target: rations.pearson_shares_pct(first, second, target)[0],
    "pearson_second_pct": lambda first, second, target: rations.pearson_shares_pct(first, second, target)[1],
    "pearson_first_of_pct": lambda first, second, target, of_pct: rations.held(
        of_pct, rations.pearson_shares_pct(first, second, target)[0]
    ),
    "pearson_second_of_pct": lambda first, second, target, of_pct: rations.held(
        of_pct, rations.pearson_shares_pct(first, second, target)[1]
    ),
    "substitution_share": lambda first, second, short: (
        rations.pearson_shares_pct(first, second, first + short)[1] / 100
    ),
    "library_blend_pct": _library_blend,
    "sprout_tray": _tray,
}
