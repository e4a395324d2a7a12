"""Hay to appetite keeps a dry doe about level until her litter grows: common practice, no source.

A 30 kg miniature with twins on four parts grass and one alfalfa, a 60 kg doe with twins on grass hay, and one on
prairie hay, the poorest of the three, which is a tenth short and no more until day 85. Each is offered more than she
eats.
"""

from __future__ import annotations

import pytest

from tests.support.one_doe import OneDoe

MINIATURE = {"size": "mini", "breed": "nigerian_dwarf", "kiddings_before": 2}
STANDARD = {"size": "standard", "breed": "alpine", "kiddings_before": 2}
Regime = tuple[int, dict[str, object], dict[str, int], int, int]
REGIMES: dict[str, Regime] = {
    "miniature, a fifth alfalfa": (30, MINIATURE, {"grass_hay_general": 1120, "alfalfa_hay_mid": 280}, 1000, 1080),
    "standard, grass": (60, STANDARD, {"grass_hay_general": 2200}, 1000, 1080),
    "standard, prairie": (60, STANDARD, {"prairie_hay": 2200}, 870, 1000),
}


def on_hay(kg: int, about: dict[str, object], feeds: dict[str, int]) -> OneDoe:
    doe = OneDoe("2026-08-01", 1000 * kg, 5, 2, mature_kg=kg, **about)
    for feed, g in feeds.items():
        doe.plan("pen", "morning", feed, (0, g))
    doe.fed_as_planned(0, 90)
    doe.scored(300, *range(2, 90, 14))
    return doe


@pytest.mark.parametrize("who", REGIMES)
def test_what_she_eats_of_the_usual_hay_is_about_what_she_needs(who: str) -> None:
    kg, about, feeds, low, high = REGIMES[who]
    doe = on_hay(kg, about, feeds)
    for day in (10, 25, 55, 85):
        said = doe.result(day)
        assert low <= said["lines"]["me"]["pm"] <= high, day
        assert said["lines"]["me"]["st"] == "level", day
        assert said["prompt"] is None, day
