"""Amounts nobody weighed: pasture, scoops, trays of sprouts; and how far off each thing may be."""

from __future__ import annotations

import pint
import pytest

from herd.science.base.errors import MissingInput, OutOfRange
from herd.science.feeds import scoops, spreads
from herd.science.feeds.library import feeds
from herd.science.feeds.sprout_feed import grain_of, sprout_feed
from herd.science.feeds.sprouts import DAYS
from herd.science.intake import grazing
from herd.science.parameters import topic

UNITS = pint.UnitRegistry()
BARLEY = feeds()["barley_grain"]


def test_pasture_rises_from_light_to_full_and_never_passes_her_appetite() -> None:
    """Common practice, no source."""
    taken = [grazing.grazed(amount, 1.5).dm_kg for amount in grazing.AMOUNTS]
    assert taken == sorted(taken)
    assert taken[0] > 0
    assert taken[-1] < 1.5


def test_impossible_pasture_is_refused() -> None:
    with pytest.raises(OutOfRange):
        grazing.grazed("full", 9)
    with pytest.raises(KeyError):
        grazing.grazed("lots", 1)


def test_a_guess_says_how_wide_it_is_and_a_vaguer_word_is_wider() -> None:
    guesses = [grazing.grazed(amount, 2.0) for amount in grazing.AMOUNTS]
    assert [guess.spread_pm for guess in guesses] == sorted((guess.spread_pm for guess in guesses), reverse=True)
    assert guesses[1].sd_kg == pytest.approx(2.0 * 0.5 * 0.35)


@pytest.mark.parametrize(
    ("feed_id", "lb", "per"),
    [
        ("barley_grain", 48, "US_bushel"),
        ("oats_grain", 32, "US_bushel"),
        ("wheat_grain", 60, "US_bushel"),
        ("field_peas", 60, "US_bushel"),
        ("flaxseed", 56, "US_bushel"),
        ("corn_grain", 45, "foot**3"),
        ("soybean_hulls", 28, "foot**3"),
        ("wheat_middlings", 30, "foot**3"),
        ("beet_pulp_molassed", 42, "foot**3"),
    ],
)
def test_densities_are_the_printed_weights(feed_id: str, lb: float, per: str) -> None:
    """Bushel weights of an equipment manual, cubic-foot weights of Alabama Table 2; converted by pint."""
    bushel_l = 35.23907016688
    litres = bushel_l if per == "US_bushel" else float(UNITS.Quantity(1, per).to("liter").magnitude)
    printed = float(UNITS.Quantity(lb, "pound").to("kg").magnitude) / litres
    assert topic("scoops")[feed_id].value == pytest.approx(printed, abs=0.006)


def test_quarts_are_those_of_pint() -> None:
    assert scoops.LITRES["liquid_qt"] == pytest.approx(UNITS.Quantity(1, "US_liquid_quart").to("liter").magnitude)
    assert scoops.LITRES["dry_qt"] == pytest.approx(UNITS.Quantity(1, "US_dry_quart").to("liter").magnitude)
    assert scoops.LITRES["cup"] == pytest.approx(UNITS.Quantity(1, "US_liquid_cup").to("liter").magnitude)


def test_a_dry_quart_of_oats_is_a_pound() -> None:
    """32 lb a bushel of 32 dry quarts (Kentucky feedstuff page)."""
    pound = float(UNITS.Quantity(1, "pound").to("gram").magnitude)
    assert scoops.scoop_guess("oats_grain", 1, "dry_qt").g == pytest.approx(pound, rel=0.01)


def test_every_density_is_of_a_library_feed_and_has_a_range() -> None:
    for feed_id in scoops.feeds_with_density():
        assert feed_id in feeds()
        guess = scoops.scoop_guess(feed_id, 1)
        assert guess.low_g < guess.g < guess.high_g


def test_no_density_is_no_guess() -> None:
    with pytest.raises(MissingInput):
        scoops.scoop_guess("alfalfa_hay_mid", 1)
    with pytest.raises(OutOfRange):
        scoops.scoop_guess("barley_grain", 0)


@pytest.mark.parametrize("day", DAYS)
def test_a_tray_is_ready_for_the_book_and_holds_no_more_than_the_grain(day: int) -> None:
    tray = sprout_feed(BARLEY, 1.0, day)
    dry_g = tray.fresh_g * tray.dm_pm / 1000
    grain_dm_g = float(BARLEY.dm_pm or 0)
    assert dry_g < grain_dm_g
    assert tray.me_kj_kg < (BARLEY.me_kj_kg or 0) * 1.005
    assert tray.dry_grain_g == pytest.approx(dry_g / 0.89, rel=0.01)
    assert dry_g * (tray.ca_ug_g or 0) == pytest.approx(grain_dm_g * (BARLEY.ca_ug_g or 0), rel=0.01)


def test_a_weighed_tray_changes_its_water_and_nothing_else() -> None:
    usual, wet = sprout_feed(BARLEY, 1.0, 7), sprout_feed(BARLEY, 1.0, 7, weighed_kg=7.0)
    assert wet.fresh_g == 7000
    assert wet.dm_pm < usual.dm_pm
    assert (wet.dry_grain_g, wet.cp_ug_g, wet.me_kj_kg) == (usual.dry_grain_g, usual.cp_ug_g, usual.me_kj_kg)
    assert wet.weighed
    assert not usual.weighed


def test_two_kilograms_of_day_seven_sprouts_are_three_hundred_grams_of_grain() -> None:
    """1 kg of day-7 sprouts holds about 0.14 kg of dry matter (the balance's own teaching point)."""
    tray = sprout_feed(BARLEY, 1.0, 7)
    assert 2000 * tray.dry_grain_g / tray.fresh_g == pytest.approx(315, abs=15)


def test_a_grain_with_blanks_is_not_soaked() -> None:
    with pytest.raises(MissingInput):
        grain_of(feeds()["pea_hay"])
    with pytest.raises(OutOfRange):
        sprout_feed(BARLEY, 0, 4)


def test_independent_doubts_add_in_squares() -> None:
    assert spreads.together_pm(300, 400) == 500
    assert spreads.together_pm() == 0
