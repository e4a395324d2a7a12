"""Ground and weather: what walking, wind and a wet coat add to maintenance."""

from __future__ import annotations

import numpy as np
import pint
import pytest

from herd.science.activity import (
    GROUNDS,
    SYSTEMS,
    active_maintenance,
    activity_factor,
    ground_of,
    walking_energy_lachica1997,
)
from herd.science.cold import coat_cold_share, critical_air, felt_air, needs_shelter, uncapped_cold_share
from herd.science.maintenance import cold_share, maintenance_luo2004
from herd.science.parameters import values
from herd.science.validity import ranges

UNITS = pint.UnitRegistry()


def celsius(fahrenheit: float) -> float:
    return float(UNITS.Quantity(fahrenheit, "degF").to("degC").magnitude)


def kmh(mph: float) -> float:
    return float(UNITS.Quantity(mph, "mile/hour").to("km/hour").magnitude)


def test_the_course_s_worked_example() -> None:
    """20 F and 15 mph are taken for 5 F, and 27 % more feed (Penn State meat-goat course)."""
    assert felt_air(celsius(20), kmh(15)) == pytest.approx(celsius(5), abs=0.01)
    assert coat_cold_share(celsius(20), kmh(15)) == pytest.approx(0.27, abs=0.0005)


def test_a_dry_coat_in_still_air_is_the_older_figure() -> None:
    air = np.linspace(-40, 45, 171)
    assert np.asarray(coat_cold_share(air)) == pytest.approx(np.asarray(cold_share(air)))


def test_critical_air_by_coat() -> None:
    """32 F dry and about 58 F wet (Ohio State, Wayne County)."""
    assert critical_air() == pytest.approx(celsius(32), abs=1e-9)
    assert critical_air(wet=True) == pytest.approx(celsius(58), abs=0.05)


def test_colder_wetter_and_windier_never_cost_less() -> None:
    air = np.linspace(45, -40, 171)
    for wet in (False, True):
        assert (np.diff(np.asarray(coat_cold_share(air, 10.0, wet))) >= 0).all()
    assert (np.asarray(uncapped_cold_share(air, 0.0, True)) >= np.asarray(uncapped_cold_share(air))).all()
    assert (np.asarray(uncapped_cold_share(air, 30.0)) >= np.asarray(uncapped_cold_share(air))).all()


def test_the_rise_stops_at_thirty_per_cent_and_says_shelter() -> None:
    assert coat_cold_share(-40.0, 80.0, True) == 0.30
    assert needs_shelter(2.0, 20.0, wet=True)
    assert not needs_shelter(-10.0)
    assert needs_shelter(-17.0)


@pytest.mark.parametrize("system", SYSTEMS)
def test_rougher_ground_never_costs_less(system: str) -> None:
    factors = [activity_factor(ground, system) for ground in GROUNDS]
    assert factors == sorted(factors)
    assert factors[0] == 1.0
    assert factors[-1] <= ranges()["activity"].high


def test_afrc_factors_are_its_fasting_multiples_over_the_indoor_one() -> None:
    """1.20 / 1.10 = 1.09 lowland, 1.30 / 1.10 = 1.18 hill (course page carrying the factors)."""
    assert activity_factor("pasture", "afrc") == pytest.approx(1.09, abs=0.005)
    assert activity_factor("hill", "afrc") == pytest.approx(1.18, abs=0.005)


def test_an_unknown_ground_is_an_error() -> None:
    with pytest.raises(KeyError):
        activity_factor("moon")


def test_ground_of_a_factor_a_keeper_set() -> None:
    assert [ground_of(factor) for factor in (1.0, 1.12, 1.2, 1.6)] == ["pen", "paddock", "pasture", "hill"]


@pytest.mark.parametrize(
    ("kg", "km", "climb", "kj"),
    [(35, 4, 0, 469), (60, 5, 200, 1385.4)],
)
def test_a_walk_worked_by_hand_from_the_abstract(kg: float, km: float, climb: float, kj: float) -> None:
    """35 x 3.35 x 4000 J = 469 kJ; 60 x (3.35 x 5000 + 31.7 x 200) J = 1385 kJ (Lachica 1997 coefficients)."""
    assert walking_energy_lachica1997(kg, km, climb) == pytest.approx(kj, rel=1e-4)


def test_a_long_walk_is_within_the_pasture_factor() -> None:
    """Two ways to one thing: 5 km and 100 m on 60 kg against pasture at 1.25 of maintenance."""
    walked = float(walking_energy_lachica1997(60, 5, 100)) / float(maintenance_luo2004(60))
    assert 0.05 < walked < activity_factor("pasture") - 1


def test_ground_and_cold_multiply() -> None:
    assert active_maintenance(10_000, 1.25, 0.2) == pytest.approx(15_000)
    assert active_maintenance(10_000, 1.0) == 10_000
    assert values("activity")["recommended_pen"] == 1.0
