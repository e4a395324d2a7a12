"""Ground: what walking adds to maintenance by other systems."""

from __future__ import annotations

import pytest

from herd.science.needs.maintenance import maintenance_luo2004
from tests.published.comparisons.activity import GROUNDS, SYSTEMS, activity_factor, walking_energy_lachica1997


@pytest.mark.parametrize("system", SYSTEMS)
def test_rougher_ground_never_costs_less(system: str) -> None:
    factors = [activity_factor(ground, system) for ground in GROUNDS]
    assert factors == sorted(factors)
    assert factors[0] == 1.0
    assert factors[-1] <= 1.9


def test_afrc_factors_are_its_fasting_multiples_over_the_indoor_one() -> None:
    """1.20 / 1.10 = 1.09 lowland, 1.30 / 1.10 = 1.18 hill (course page carrying the factors)."""
    assert activity_factor("pasture", "afrc") == pytest.approx(1.09, abs=0.005)
    assert activity_factor("hill", "afrc") == pytest.approx(1.18, abs=0.005)


def test_an_unknown_ground_is_an_error() -> None:
    with pytest.raises(KeyError):
        activity_factor("moon")


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
