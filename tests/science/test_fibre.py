"""Fibre and the balance of calcium to phosphorus: bands with no holes, floors and ceilings."""

from __future__ import annotations

import numpy as np
import pytest

from herd.science import fibre
from herd.science.errors import MissingInput, OutOfRange
from herd.science.intake import appetite_dry, late_appetite_share


@pytest.mark.parametrize(
    ("ndf", "band"), [(29.9, "red"), (30, "amber"), (34.9, "amber"), (35, "near"), (38, "level"), (41, "level")]
)
def test_ndf_bands(ndf: float, band: str) -> None:
    """41 % was enough for high-yielding goats (Lu 2005); the other lines are judgement."""
    assert fibre.ndf_band(ndf) == band


def test_more_fibre_is_never_a_worse_band() -> None:
    ranks = [fibre.NDF_BANDS.index(fibre.ndf_band(ndf)) for ndf in np.linspace(0, 100, 401)]
    assert ranks == sorted(ranks)


@pytest.mark.parametrize(
    ("ratio", "band"),
    [
        (1.1, "red_low"),
        (1.2, "amber_low"),
        (1.49, "amber_low"),
        (1.5, "level"),
        (2.5, "level"),
        (2.6, "amber_high"),
        (4.1, "high"),
        (7.1, "red_high"),
    ],
)
def test_ca_p_bands(ratio: float, band: str) -> None:
    """At least 1.2 for does (goat extension), 1.5 for dairy rations (Table 10.11); above 2.5 judgement."""
    assert fibre.ca_p_band(ratio) == band


def test_a_buck_wants_two_to_one() -> None:
    """2:1 for males, for stones (goat extension)."""
    assert fibre.ca_p_band(1.9, male=True) == "amber_low"
    assert fibre.ca_p_band(2.0, male=True) == "level"


def test_ca_p_goes_through_its_bands_in_order() -> None:
    for male in (False, True):
        ranks = [fibre.CA_P_BANDS.index(fibre.ca_p_band(ratio, male)) for ratio in np.linspace(0, 100, 2001)]
        assert ranks == sorted(ranks)


@pytest.mark.parametrize(("ca", "p"), [(None, 3.0), (6.0, None), (6.0, 0.0)])
def test_no_ratio_of_what_is_not_known(ca: float | None, p: float | None) -> None:
    with pytest.raises(MissingInput):
        fibre.ca_to_p(ca, p)


def test_ratio_by_hand() -> None:
    assert fibre.ca_to_p(8.7, 4.3) == pytest.approx(2.02, abs=0.005)


def test_forage_floor_is_fifteen_grams_a_kilogram() -> None:
    """1.5 % of body weight (extension text): 900 g for 60 kg."""
    assert fibre.forage_gap(700, 60) == pytest.approx(200)
    assert fibre.forage_gap(900, 60) == 0
    assert fibre.forage_gap(2000, 60) == 0


def test_ceiling_is_her_dry_appetite_of_poor_hay() -> None:
    """70 g DM of hay with 60 % NDF is 42 g NDF per kg0.75: a dry doe on such hay is just at it."""
    assert float(fibre.ndf_ceiling(60)) == pytest.approx(1000 * 0.60 * float(appetite_dry(60)))
    assert "ndf_ceiling" in fibre.LOW_CONFIDENCE


def test_ceiling_falls_with_appetite_late() -> None:
    days = np.arange(40.0, -1.0, -1.0)
    held = np.asarray(fibre.ndf_ceiling(60, late_appetite_share(days, 2)))
    assert (np.diff(held) <= 0).all()
    assert held[-1] == pytest.approx(0.65 * held[0])


@pytest.mark.parametrize("ndf", [-1, 101, float("nan")])
def test_impossible_fibre_is_refused(ndf: float) -> None:
    with pytest.raises(OutOfRange):
        fibre.ndf_band(ndf)
