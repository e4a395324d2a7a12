"""What must hold whatever the coefficients are: needs rise with litter, day and milk, and joins are smooth."""

import numpy as np
import pytest

from herd.science.body import growth, litter
from herd.science.dates import gestation
from herd.science.intake import appetite as intake
from herd.science.needs import calcium, lactation, late_floor, maintenance, pregnancy
from tests.support.exposed import exposed

DAYS = np.arange(0.0, 151.0)


def test_need_of_the_litter_rises_with_day_and_litter() -> None:
    one, two = (pregnancy.pregnancy_energy_afrc1993(DAYS, kg, 150) for kg in (3.0, 6.0))
    assert (np.diff(np.asarray(one)) > 0).all()
    assert np.asarray(two) == pytest.approx(2 * np.asarray(one))
    assert (np.asarray(one) > 0).all()


@pytest.mark.parametrize("length_d", [145.0, 147.0, 151.0])
def test_daily_gain_adds_up_to_the_content(length_d: float) -> None:
    middle = np.arange(0.5, length_d)
    laid_down = np.sum(pregnancy.conceptus_energy_gain_afrc1993(middle, 4.0, length_d))
    content = pregnancy.conceptus_energy_afrc1993(np.array([0.0, length_d]), 4.0, length_d)
    assert laid_down == pytest.approx(float(np.diff(np.asarray(content))[0]), rel=1e-3)


def test_litter_reaches_the_same_content_whatever_the_breeds_gestation() -> None:
    ends = [float(pregnancy.conceptus_energy_afrc1993(length, 4.0, length)) for length in (145.0, 147.0, 151.0)]
    assert ends == pytest.approx([ends[0]] * 3)


def test_calcium_of_the_litter_adds_up_to_what_a_kid_holds() -> None:
    """11.5 g per kg litter at term, less the little the curve starts with (Saanen kid 9.9 g/kg plus membranes)."""
    middle = np.arange(0.5, 150.0)
    assert float(np.sum(calcium.calcium_pregnancy(middle, 1.0, 150))) == pytest.approx(11.5, rel=0.01)


def test_growing_maintenance_joins_the_adult_figure() -> None:
    weights = np.linspace(30.0, 70.0, 400)
    per_kg = np.asarray(maintenance.maintenance_growing(weights, 60.0)) / np.asarray(
        maintenance.metabolic_weight(weights)
    )
    assert per_kg[0] == pytest.approx(580)
    assert per_kg[-1] == pytest.approx(501.3)
    assert np.abs(np.diff(per_kg)).max() < 1
    assert (np.diff(per_kg) <= 1e-9).all()


def test_growth_slows_to_nothing_at_mature_weight() -> None:
    gain = np.asarray(growth.expected_gain(np.array([20.0, 40.0, 60.0, 70.0]), 60.0))
    assert gain.tolist() == pytest.approx([140.0, 70.0, 0.0, 0.0])
    there_and_back = growth.grown_weight(float(growth.grown_weight(40.0, 60.0, 30.0)), 60.0, -30.0)
    assert float(there_and_back) == pytest.approx(40.0)


def test_french_doeling_targets_are_met_within_a_tenth() -> None:
    """15, 24.5, 33.5 kg at 2, 4, 7 months, about 49 at 12, mature 65 (French advisory pages)."""
    seen = np.asarray(growth.weight_at_age(np.array([60.0, 122.0, 213.0, 365.0]), 65.0))
    assert seen == pytest.approx([15.0, 24.5, 33.5, 49.0], rel=0.13)


@pytest.mark.parametrize(("litter_size", "left"), [(1.0, 0.75), (2.0, 0.65), (3.0, 0.60), (4.0, 0.60)])
def test_late_appetite_falls_in_a_line_to_kidding_and_holds(litter_size: float, left: float) -> None:
    to_go = np.array([60.0, 28.0, 14.0, 0.0, -7.0])
    share = np.asarray(intake.late_appetite_share(to_go, litter_size))
    assert share == pytest.approx([1.0, 1.0, (1 + left) / 2, left, left])


def test_appetite_after_kidding_starts_where_it_had_fallen_to() -> None:
    share = np.asarray(intake.fresh_appetite_share(np.arange(0.0, 90.0), 2.0))
    assert share[0] == pytest.approx(0.65)
    assert share[20] == pytest.approx(0.90)
    assert share[70] == 1.0
    assert (np.diff(share) >= 0).all()


def test_dwarf_doe_at_her_peak_stays_within_the_published_intake() -> None:
    """West African Dwarf does reach 140 g/kg MBW at the peak of lactation; 1.2 kg of rich milk on 22 kg."""
    fcm = lactation.fat_corrected_milk(1.2, 6.0)
    eaten = float(intake.appetite_milk_base(22.0, "mini") + intake.appetite_milk(fcm))
    per_mbw = 1000 * eaten / float(maintenance.metabolic_weight(22.0))
    assert 110 < per_mbw < 140


def test_swiss_intake_at_60_kg() -> None:
    """0.9 + BW/100 + 0.27 milk = 2.31 kg for 60 kg and 3 kg of 3.5 % milk (Swiss formula)."""
    fcm = lactation.fat_corrected_milk(3.0, 3.5)
    assert float(intake.appetite_milk_base(60.0, "standard") + intake.appetite_milk(fcm)) == pytest.approx(
        2.31, rel=0.02
    )


@pytest.mark.parametrize(("kg", "table_mj"), [(45.0, 10.4), (60.0, 13.0), (75.0, 15.3)])
def test_floor_share_reproduces_the_german_month_5(kg: float, table_mj: float) -> None:
    """GfE 2003 Table 1, month 5: twins of 5.5 % of her weight each, mean of days 121 to 150. Low by 4.4 % at 45 kg."""
    day = np.arange(121.0, 151.0)
    twins_kg = kg * litter.litter_share(2, "standard", "alpine")
    need = pregnancy.pregnancy_energy_afrc1993(day, twins_kg, 150)
    floor = np.mean(late_floor.floor_allowance(maintenance.maintenance_gfe2003(kg), need, 0.46))
    assert float(floor) / 1000 == pytest.approx(table_mj, rel=0.05)


def test_floor_never_asks_more_than_she_can_eat() -> None:
    eatable = float(late_floor.floor_eatable(1.0, 0.6, 0.4, 12700, 9200))
    assert eatable == pytest.approx(0.4 * 12700 + 0.6 * 9200)
    assert float(late_floor.floor_eatable(2.0, 0.6, 0.4, 12700, 9200)) == pytest.approx(0.6 * 12700 + 1.4 * 9200)


def test_conceptus_comes_off_a_scale_weight_and_half_off_a_tape() -> None:
    share = litter.litter_share(2, "standard", "alpine")
    scale, tape = (litter.maternal_weight(72.0, 145, share, 150, how) for how in ("scale", "tape"))
    womb = float(litter.gravid_uterus_freer2007(145.0, scale * share, 150))
    assert scale + womb == pytest.approx(72.0)
    assert scale < tape < 72.0


def test_a_twin_is_lighter_than_a_single_but_a_litter_heavier() -> None:
    """Each kid more costs 0.45 kg of 3.24 kg at 1.85 kids (Amoah 1996): kids of 3.62, 3.17 and 2.72 kg."""
    one, two, three, four = (litter.litter_share(kids, "standard", "alpine") for kids in (1, 2, 3, 4))
    assert two / one == pytest.approx(2 * 3.1725 / 3.6225, abs=0.01)
    assert three / one == pytest.approx(3 * 2.7225 / 3.6225, abs=0.01)
    assert four / one == pytest.approx(4 * 2.2725 / 3.6225, abs=0.02)
    assert one < two < three < four


def test_dwarf_kids_lose_less_by_company() -> None:
    """1.28, 1.21 and 1.13 kg printed of dwarf kids (Hagan 2014), so litters of 1.89 and 2.65 times a single."""
    one, two, three, four = (litter.litter_share(kids, "mini", "nigerian_dwarf") for kids in (1, 2, 3, 4))
    assert two / one == pytest.approx(2 * 1.21 / 1.28, abs=0.005)
    assert three / one == pytest.approx(3 * 1.13 / 1.28, abs=0.005)
    assert three < four < 4 / 3 * three


def test_milk_peaks_when_the_curve_says() -> None:
    day = np.arange(1.0, 306.0)
    grown, first = (np.asarray(lactation.milk_curve_wood(day, 900.0, young)) for young in (False, True))
    assert int(day[grown.argmax()]) == 45
    assert int(day[first.argmax()]) == 55
    assert float(grown.sum()) == pytest.approx(900, rel=0.005)
    assert float(lactation.milk_curve_wood(0.0, 900.0, False)) == 0


def test_pen_bred_doe_is_due_when_the_simulation_says() -> None:
    """P5/P50/P95 after buck-in by simulation (own working, exposure 21 and 42 days): within a day."""
    seen = [[gestation.due_quantile(q, exposed(days), 150.6, 2.8) for q in (0.05, 0.5, 0.95)] for days in (21, 42)]
    assert seen[0] == pytest.approx([150.5, 161.1, 171.8], abs=1)
    assert seen[1] == pytest.approx([150.8, 162.6, 184.1], abs=1)


def test_hand_bred_doe_is_due_by_her_breed_and_litter() -> None:
    mean, sd = gestation.gestation_prior("alpine", 2)
    assert (mean, sd) == pytest.approx((151.4 - 0.6 * 0.15, 2.8))
    assert gestation.due_quantile(0.5, exposed(1), mean, sd) == pytest.approx(mean)
    assert gestation.gestation_prior("nigerian_dwarf", 1)[0] > gestation.gestation_prior("nigerian_dwarf", 3)[0]


def test_quantile_and_chance_undo_each_other() -> None:
    for chance in (0.02, 0.5, 0.98):
        day = gestation.due_quantile(chance, exposed(30), 149.0, 3.0)
        assert gestation.due_cdf(day, exposed(30), 149.0, 3.0) == pytest.approx(chance, abs=1e-6)
