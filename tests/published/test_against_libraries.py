"""Conversions against pint and probabilities against scipy: libraries that know nothing of goats."""

from __future__ import annotations

import numpy as np
import pint
import pytest
from scipy import stats

from herd.science.dates.conception import Evidence, conception_chances
from herd.science.dates.exposure import conception_weights
from herd.science.dates.gestation import due_cdf, due_quantile, gestation_prior
from herd.science.dates.signs import SIGNS, Lead, lead_judged, sign_earlier, sign_new, sign_present
from herd.science.feeds.library import KJ_PER_MCAL
from tests.published.comparisons.systems_nrc1981 import KJ_PER_KCAL
from tests.published.comparisons.tapes import weight_from_tape_rule300
from tests.published.of_body import CM_PER_IN, LB_PER_KG
from tests.published.of_systems import G_PER_LB
from tests.support.exposed import exposed

UNITS = pint.UnitRegistry()
MEAN_D, SD_D = 150.6, 2.8


def size(amount: float, of: str, to: str) -> float:
    return float(UNITS.Quantity(amount, of).to(to).magnitude)


@pytest.mark.parametrize(
    ("ours", "of", "to"),
    [
        (KJ_PER_KCAL, "kilocalorie", "kilojoule"),
        (KJ_PER_MCAL, "megacalorie", "kilojoule"),
        (LB_PER_KG, "kilogram", "pound"),
        (G_PER_LB, "pound", "gram"),
        (CM_PER_IN, "inch", "centimeter"),
    ],
)
def test_conversion(ours: float, of: str, to: str) -> None:
    assert ours == pytest.approx(size(1, of, to), rel=1e-8)


def test_the_metric_tape_rule_is_the_inch_rule() -> None:
    girth_in, length_in = 35, 30
    rule_kg = size(girth_in**2 * length_in / 300, "pound", "kilogram")
    metric_kg = weight_from_tape_rule300(size(girth_in, "inch", "cm"), size(length_in, "inch", "cm"))
    assert metric_kg == pytest.approx(rule_kg, rel=1e-4)


@pytest.mark.parametrize("day", range(140, 162))
def test_hand_bred_due_date_is_the_normal_of_scipy(day: int) -> None:
    assert due_cdf(day, exposed(1), MEAN_D, SD_D) == pytest.approx(stats.norm.cdf(day, MEAN_D, SD_D), abs=1e-12)


@pytest.mark.parametrize("chance", [0.02, 0.1, 0.5, 0.9, 0.98])
def test_hand_bred_quantile_is_the_normal_of_scipy(chance: float) -> None:
    assert due_quantile(chance, exposed(1), MEAN_D, SD_D) == pytest.approx(
        stats.norm.ppf(chance, MEAN_D, SD_D), abs=1e-9
    )


@pytest.mark.parametrize("window_d", [7, 21, 42])
def test_pen_bred_due_date_is_the_mixture_of_scipy(window_d: int) -> None:
    weights = np.array(conception_weights(window_d))
    for day in range(140, 200, 3):
        mixture = float(weights @ stats.norm.cdf(day - np.arange(window_d), MEAN_D, SD_D))
        assert due_cdf(day, exposed(window_d), MEAN_D, SD_D) == pytest.approx(mixture, abs=1e-12)


@pytest.mark.parametrize("window_d", [7, 21])
def test_flat_window_has_the_moments_of_a_uniform_and_a_normal(window_d: int) -> None:
    """Within one cycle the exposure model is flat: mean mu + (W - 1) / 2, variance (W^2 - 1) / 12 + sd^2."""
    days = np.arange(120, 200, 0.05)
    density = np.gradient([due_cdf(day, exposed(window_d), MEAN_D, SD_D) for day in days], days)
    density /= np.trapezoid(density, days)
    mean = np.trapezoid(days * density, days)
    variance = np.trapezoid((days - mean) ** 2 * density, days)
    assert mean == pytest.approx(MEAN_D + (window_d - 1) / 2, abs=0.01)
    assert variance == pytest.approx((window_d**2 - 1) / 12 + SD_D**2, rel=0.01)


def test_a_scan_over_weeks_with_the_buck_is_the_product_of_scipys_normals() -> None:
    """Day of service flat, age by scan normal: settled by a normal cut at both ends, due by its sum with gestation."""
    days = np.arange(21)
    flat = Evidence(((0, 20, False),), scans=((50, 40),))
    weights = stats.norm.pdf(days, 10, 3)
    weights /= weights.sum()
    settled = conception_chances(flat)
    for chance in (0.02, 0.5, 0.98):
        found = due_quantile(chance, settled, MEAN_D, SD_D)
        assert float(weights @ stats.norm.cdf(found - days, MEAN_D, SD_D)) == pytest.approx(chance, abs=0.01)


def test_due_by_a_scan_nobody_recorded_a_service_for_has_the_spread_of_both() -> None:
    """SD of the sum of two normals, the scan's cut three standard deviations out."""
    settled = conception_chances(Evidence(((0, 0, True),), scans=((90, 50),)))
    low, middle, high = (due_quantile(chance, settled, MEAN_D, SD_D) for chance in (0.1587, 0.5, 0.8413))
    assert middle == pytest.approx(40 + MEAN_D, abs=0.05)
    assert (high - low) / 2 == pytest.approx((3**2 + SD_D**2) ** 0.5, abs=0.1)


def test_a_buck_s_mark_is_scipy_s_normal_with_a_day_more_of_doubt() -> None:
    settled = conception_chances(Evidence(((-30, -30, True),), marks=(0,)))
    marked = tuple((day, 1.0, wider) for day, _, wider in settled if day == 0)
    for chance in (0.02, 0.5, 0.98):
        assert due_quantile(chance, marked, MEAN_D, SD_D) == pytest.approx(stats.norm.ppf(chance, MEAN_D, SD_D + 1))


@pytest.mark.parametrize("sign", SIGNS)
def test_a_signs_lead_is_the_lognormal_of_scipy_judged_or_the_farms_own(sign: str) -> None:
    judged = lead_judged(sign)
    for own in (None, Lead(1.7 * judged.median_h, 0.6, 0.9)):
        lead = own or judged
        frozen = stats.lognorm(s=lead.spread, scale=lead.median_h)
        for hours in (0.5, 4, lead.median_h, 70, 400):
            assert sign_earlier(sign, hours, own) == pytest.approx(frozen.sf(hours), abs=1e-12)
            by_now, by_then = frozen.sf(hours), frozen.sf(hours + 6)
            false = 1 - sign_present(sign, 2400, Lead(1e-9, 1.0, 0.0))
            new = lead.shows * (by_now - by_then) + (1 - lead.shows * by_now) * (1 - false)
            assert sign_new(sign, hours, 6, own) == pytest.approx(new, abs=1e-12)


@pytest.mark.parametrize("own", [None, (152.3, 2.4)])
def test_a_farms_own_length_is_the_normal_of_scipy_moved_by_litter(own: tuple[float, float] | None) -> None:
    mean, sd = gestation_prior("alpine", 3, own)
    plain = own or (151.4, 2.8)
    frozen = stats.norm(plain[0] - 0.6 * (3 - 1.85), plain[1])
    for chance in (0.02, 0.5, 0.98):
        assert due_quantile(chance, exposed(1), mean, sd) == pytest.approx(frozen.ppf(chance), abs=1e-9)
