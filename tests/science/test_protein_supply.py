"""Metabolizable protein of feeds: the diet's own undegraded share, and 0.20 marked where nobody knows."""

from __future__ import annotations

import pytest

from herd.science.errors import MissingInput, OutOfRange
from herd.science.feed_library import feeds
from herd.science.protein import crude_protein, mp_per_cp
from herd.science.protein_supply import diet_uip_share, feed_protein, library_protein


@pytest.mark.parametrize(("uip", "mp"), [(0.0, 0.64), (0.20, 0.672), (0.40, 0.704), (1.0, 0.80)])
def test_printed_factors(uip: float, mp: float) -> None:
    """0.64, 0.672, 0.704 and 0.80 of crude protein (NRC 2000 by memory)."""
    found = feed_protein(100_000, uip)
    assert found.mp_ug_g == round(100_000 * mp)
    assert not found.assumed


def test_a_blank_share_is_twenty_per_cent_and_marked() -> None:
    found = feed_protein(120_000)
    assert (found.mp_ug_g, found.uip_pm, found.assumed) == (80_640, 200, True)


def test_more_undegraded_is_worth_more() -> None:
    worth = [feed_protein(150_000, share / 10).mp_ug_g for share in range(11)]
    assert worth == sorted(worth)
    assert len(set(worth)) == 11


@pytest.mark.parametrize("share", [-0.01, 1.01, float("nan")])
def test_a_share_that_is_none_is_refused(share: float) -> None:
    with pytest.raises(OutOfRange):
        feed_protein(100_000, share)


def test_every_feed_of_the_library_has_a_value_or_a_reason() -> None:
    for feed in feeds().values():
        found = library_protein(feed)
        if feed.cp_ug_g is None or feed.feed_class == "mineral":
            assert found is None
            continue
        assert found is not None
        assert found.assumed == ("rup_pct_cp" not in feed.figures)
        assert 0.64 * feed.cp_ug_g - 1 <= found.mp_ug_g <= 0.80 * feed.cp_ug_g + 1


def test_hay_and_grain_by_hand() -> None:
    """Early-bloom alfalfa: CP 19 %, UIP 16 %: 0.64 + 0.0256 = 0.6656 of 190 g/kg = 126.5 g MP per kg."""
    found = library_protein(feeds()["alfalfa_hay_early"])
    assert found is not None
    assert found.mp_ug_g == pytest.approx(126_464, abs=1)


def test_the_diet_s_own_share() -> None:
    """1000 g at 12 % CP, 20 % undegraded, and 300 g at 20 %, 40 %: (24 + 24) / (120 + 60) = 0.267."""
    share = diet_uip_share([(1000, 120_000, 200), (300, 200_000, 400)])
    assert share == pytest.approx(48 / 180)
    assert float(crude_protein(100, share)) == pytest.approx(100 / mp_per_cp(48 / 180))


def test_supply_feed_by_feed_is_supply_by_the_diet_s_share() -> None:
    parts = [(1000, 120_000, 0.2), (300, 200_000, 0.4)]
    each = sum(dm * feed_protein(cp, uip).mp_ug_g for dm, cp, uip in parts)
    share = diet_uip_share([(dm, cp, round(1000 * uip)) for dm, cp, uip in parts])
    assert each == pytest.approx(sum(dm * cp for dm, cp, _ in parts) * mp_per_cp(share))


@pytest.mark.parametrize("parts", [[], [(0, 120_000, 200)], [(1000, None, 200)]])
def test_no_share_without_protein(parts: list[tuple[float, int | None, int]]) -> None:
    with pytest.raises(MissingInput):
        diet_uip_share(parts)
