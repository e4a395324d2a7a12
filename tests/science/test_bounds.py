"""Three points for every limited argument: both ends answer, just outside raises and says what and by whose word."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from herd.science.base.errors import OutOfRange
from herd.science.base.validity import ranges
from herd.science.body import condition, growth, litter
from herd.science.dates import gestation
from herd.science.feeds import composition
from herd.science.intake import appetite as intake
from herd.science.intake import limits
from herd.science.needs import calcium, lactation, late_floor, maintenance, phosphorus, pregnancy, protein

KG, LITTER, LENGTH = {"body_weight_kg": 50.0}, {"litter_kg": 6.0}, {"gestation_length_d": 150.0}
CARRIED = {"gestation_day": 120.0, **LITTER, **LENGTH}
CASES: list[tuple[Callable[..., Any], dict[str, Any]]] = [
    (maintenance.metabolic_weight, KG),
    (maintenance.maintenance_luo2004, KG),
    (maintenance.maintenance_gfe2003, KG),
    (maintenance.me_month_5_gfe2003, KG),
    (maintenance.maintenance_growing, {**KG, "mature_weight_kg": 60.0}),
    (pregnancy.conceptus_energy_afrc1993, CARRIED),
    (pregnancy.conceptus_energy_gain_afrc1993, CARRIED),
    (pregnancy.pregnancy_energy_afrc1993, CARRIED),
    (pregnancy.conceptus_protein_gain_afrc1993, CARRIED),
    (pregnancy.pregnancy_protein, CARRIED),
    (litter.gravid_uterus_freer2007, CARRIED),
    (litter.kid_factor, {"litter": 2.0, "size": "standard"}),
    (litter.litter_share, {"litter": 2.0, "size": "mini", "breed": "pygmy"}),
    (late_floor.floor_allowance, {"body_weight_maintenance_kj": 9000.0, "pregnancy_kj": 5000.0, "share": 0.46}),
    (lactation.milk_energy_nsahlai2004, {"fat_pct": 4.0}),
    (lactation.fat_corrected_milk, {"milk_kg": 2.0, "fat_pct": 4.0}),
    (lactation.lactation_energy_nsahlai2004, {"fcm_kg": 2.0}),
    (growth.gain_energy_sahlu2004, {"gain_g": 80.0}),
    (growth.gain_energy, {"gain_g": 80.0, **KG, "mature_weight_kg": 60.0}),
    (growth.expected_gain, {**KG, "mature_weight_kg": 60.0}),
    (growth.weight_at_age, {"age_d": 300.0, "mature_weight_kg": 60.0}),
    (protein.maintenance_protein_nsahlai2004, {"dmi_kg": 1.5, **KG}),
    (protein.fecal_protein_nsahlai2004, {"dmi_kg": 1.5}),
    (protein.lactation_protein, {"milk_protein_g": 90.0}),
    (protein.growing_protein_luo2004, {**KG, "gain_g": 80.0}),
    (protein.mp_per_cp, {"uip_share": 0.2}),
    (protein.crude_protein, {"mp_g": 100.0}),
    (calcium.calcium_intake_inra, {"dmi_kg": 1.5}),
    (calcium.calcium_body_inra, KG),
    (calcium.calcium_diet, {"absorbed_g": 4.0, "absorption": 0.4}),
    (calcium.calcium_milk_inra, {"milk_kg": 2.0}),
    (calcium.calcium_pregnancy, CARRIED),
    (calcium.calcium_growth, {"gain_g": 80.0}),
    (phosphorus.phosphorus_intake_inra, {"dmi_kg": 1.5}),
    (phosphorus.phosphorus_body_inra, KG),
    (phosphorus.phosphorus_milk_inra, {"milk_kg": 2.0}),
    (phosphorus.phosphorus_pregnancy, CARRIED),
    (phosphorus.phosphorus_growth, {"gain_g": 80.0}),
    (intake.appetite_dry, KG),
    (intake.appetite_carrying, {**KG, "gestation_day": 120.0, **LENGTH}),
    (intake.appetite_growing, KG),
    (intake.appetite_milk_base, {**KG, "size": "mini"}),
    (intake.appetite_milk, {"fcm_kg": 2.0}),
    (intake.late_appetite_share, {"days_to_kidding": 10.0, "litter": 2.0}),
    (intake.fresh_appetite_share, {"days_in_milk": 10.0, "litter": 2.0}),
    (gestation.gestation_prior, {"breed": "alpine", "litter": 2.0}),
    (condition.unit_weight, KG),
    (condition.condition_change, {"energy_balance_kj": 1000.0, **KG}),
    (limits.grain_per_meal, KG),
    (limits.grain_per_day, {**KG, "in_milk": True}),
    (limits.grain_before_kidding, {**KG, "least_appetite_kg": 1.0}),
    (limits.forage_floor, KG),
    (composition.me_from_tdn, {"tdn_pct": 58.0}),
]
POINTS = [(f, good, name) for f, good in CASES for name in good if name in ranges()]


@pytest.mark.parametrize(("function", "good", "name"), POINTS, ids=[f"{f.__name__}-{n}" for f, _, n in POINTS])
def test_both_ends_answer_and_beyond_them_raises(function: Callable[..., Any], good: dict[str, Any], name: str) -> None:
    limits_of = ranges()[name]
    for end in (limits_of.low, limits_of.high):
        assert np.isfinite(np.asarray(function(**{**good, name: float(end)}), dtype=float)).all()
    for beyond in (limits_of.low - 0.01, limits_of.high + 0.01, float("nan")):
        with pytest.raises(OutOfRange) as raised:
            function(**{**good, name: beyond})
        assert raised.value.name == name
        assert (raised.value.low, raised.value.high) == (limits_of.low, limits_of.high)
        assert raised.value.source == limits_of.source


def test_one_bad_day_among_many_is_found() -> None:
    with pytest.raises(OutOfRange, match="body_weight_kg is 3"):
        maintenance.maintenance_luo2004(np.array([50.0, 3.0, 51.0]))
