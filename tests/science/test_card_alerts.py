"""What the card says about copper, selenium, sulfur, iron, sheep at the feeder; and about water tests."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from herd.science.water_minerals.alerts import Alert, Herd, alerts, sulfur_band
from herd.science.water_minerals.lines import element_lines
from herd.science.water_minerals.portions import FEED, PRODUCT, Portion
from herd.science.water_minerals.water import (
    BANDS,
    TESTED,
    nitrate_from_nitrogen,
    read_water,
    sulfur_from_sulfate,
    water_band,
    water_portion,
)
from tests.science.test_card import EVERYTHING, feed


def said(*portions: Portion, **herd: Any) -> dict[str, Alert]:
    every = list(portions)
    found = alerts(every, element_lines(every, "late"), Herd(**herd))
    return {alert.code: alert for alert in found}


def product(name: str, dm_kg: float, **holds: float) -> Portion:
    return Portion(name, PRODUCT, dm_kg, {**EVERYTHING, **holds})


def test_a_plain_good_diet_is_silent() -> None:
    assert said(feed(mg=2000, k=15000, na=1000, s=2000, cu=15, zn=45, mn=45, fe=100, se=0.2, mo=1)) == {}


def test_selenium_above_one_is_a_hard_alert_with_every_source() -> None:
    found = said(feed(10, se=0.1), product("mineral", 0.2, se=60))["selenium_high"]
    assert found.grade == "hard"
    assert found.value == pytest.approx((1 + 12) / 10.2)
    assert found.sources == (("mineral", pytest.approx(12)), ("hay", pytest.approx(1)))


def test_a_hard_alert_comes_before_the_rest_and_needs_no_complete_sum() -> None:
    every = [feed(10, se=1.5, fe=400), Portion("oats", FEED, 1, {})]
    found = alerts(every, element_lines(every, "late"), Herd())
    assert found[0].code == "selenium_high"
    assert found[0].at_least


def test_sheep_at_the_feeder_set_the_copper_limit() -> None:
    """15 mg/kg for sheep, 40 for goats alone (tolerance tables)."""
    assert said(feed(cu=20)) == {}
    assert said(feed(cu=20), sheep_share=True)["copper_for_sheep"].limit == 15
    assert said(feed(cu=41))["copper_high"].grade == "hard"
    unsure = said(feed(cu=8), Portion("oats", FEED, 1, {}), sheep_share=True)
    assert unsure["copper_for_sheep_unknown"].at_least


def test_two_products_with_copper_or_selenium_are_named() -> None:
    both = said(feed(cu=8, se=0.1), product("mineral", 0.05, cu=1600, se=20), product("bolus salt", 0.05, cu=300, se=5))
    assert {"two_copper_products", "two_selenium_products"} <= set(both)
    assert "two_copper_products" not in said(feed(cu=8), product("mineral", 0.05, cu=1600))


@pytest.mark.parametrize(("mo", "grade"), [(3.0, "amber"), (6.0, "red")])
def test_copper_to_molybdenum(mo: float, grade: str) -> None:
    """At least 4:1 (goat extension); below 2 red."""
    assert said(feed(cu=9, mo=mo))["copper_to_molybdenum_low"].grade == grade
    assert "copper_to_molybdenum_low" not in said(feed(cu=12, mo=3))


def test_a_ratio_half_unknown_is_said_only_where_it_is_proved() -> None:
    blank_cu = Portion("oats", FEED, 1, {**EVERYTHING, "cu": None})
    blank_mo = Portion("oats", FEED, 1, {**EVERYTHING, "mo": None})
    assert "copper_to_molybdenum_low" not in said(feed(cu=5, mo=3), blank_cu)
    assert "copper_to_molybdenum_low" in said(feed(cu=5, mo=3), blank_mo)
    assert "copper_builds_up" in said(feed(cu=30, mo=1))
    assert "copper_builds_up" not in said(feed(cu=30, mo=1), blank_mo)


@pytest.mark.parametrize(
    ("s", "grain", "band"),
    [
        (2900, 0.2, "level"),
        (3000, 0.2, "amber"),
        (4000, 0.2, "amber"),
        (4000, 0.5, "red"),
        (4000, None, "red"),
        (5000, 0.0, "red"),
    ],
)
def test_sulfur_bands(s: float, grain: float | None, band: str) -> None:
    """3 g/kg amber; 4 with much grain, 5 on forage (beef table; the 4 is judgement)."""
    assert sulfur_band(s, grain) == band


def test_sulfur_from_water_counts() -> None:
    water = water_portion({"sulfate": 2500.0}, 40.0)
    assert "sulfur_high" in said(feed(10, s=1500), water, grain_share=0.1)
    assert "sulfur_high" not in said(feed(10, s=1500), grain_share=0.1)


def test_what_stands_in_the_way() -> None:
    assert "iron_against_copper" in said(feed(fe=300))
    assert said(feed(fe=600))["fe_over"].grade == "red"
    assert "selenium_under_sulfur" in said(feed(s=3200, se=0.1), grain_share=0.2)
    assert "zinc_under_calcium" in said(feed(ca=11000, zn=30))
    assert "zinc_under_calcium" not in said(feed(ca=9000, zn=30))
    assert "molybdenum_high" in said(feed(mo=3.5, cu=20))


def test_potassium_is_a_remark_and_before_kidding_a_second_one() -> None:
    """Hay often exceeds the 20 g/kg of the beef table: warn, do not block."""
    assert said(feed(k=22000))["k_over"].grade == "amber"
    close = said(feed(k=26000, mg=1000), close_to_kidding=True)
    assert {"potassium_before_kidding", "magnesium_before_kidding"} <= set(close)


@given(st.floats(0, 60), st.floats(0, 20))
def test_more_selenium_or_copper_never_takes_an_alert_away(cu: float, more: float) -> None:
    first, second = said(feed(cu=cu, se=cu / 20)), said(feed(cu=cu + more, se=(cu + more) / 20))
    assert {"copper_high", "selenium_high"} & set(first) <= set(second)


@pytest.mark.parametrize("tested", TESTED)
def test_water_gets_no_better_with_more_in_it(tested: str) -> None:
    ranks = [BANDS.index(water_band(tested, mg_l)) for mg_l in (0, 0.04, 0.1, 0.4, 1, 20, 80, 200, 700, 2500, 9000)]
    assert ranks == sorted(ranks)
    assert ranks[0] == 1
    assert water_band(tested, None) == "unknown"


@pytest.mark.parametrize(
    ("tested", "mg_l", "band"),
    [
        ("tds", 999, "green"),
        ("tds", 1000, "amber"),
        ("tds", 3000, "amber"),
        ("tds", 3001, "red"),
        ("tds", 5001, "stop"),
        ("sulfate", 499, "green"),
        ("sulfate", 1001, "red"),
        ("nitrate_n", 39, "green"),
        ("nitrate_n", 101, "red"),
        ("nitrate_n", 301, "stop"),
        ("fe", 4.1, "red"),
    ],
)
def test_water_bands(tested: str, mg_l: float, band: str) -> None:
    """Montana (dissolved solids), North Dakota (sulfate), South Dakota and Kansas (nitrate), Beede (iron)."""
    assert water_band(tested, mg_l) == band


def test_hardness_has_no_band() -> None:
    assert set(read_water({"hardness": 900.0})) == set(TESTED)


def test_factors_are_those_of_the_atomic_weights() -> None:
    """S 32.06, O 15.999, N 14.007 (IUPAC)."""
    assert float(sulfur_from_sulfate(1.0)) == pytest.approx(32.06 / (32.06 + 4 * 15.999), abs=0.0005)
    assert float(nitrate_from_nitrogen(1.0)) == pytest.approx((14.007 + 3 * 15.999) / 14.007, abs=0.005)
