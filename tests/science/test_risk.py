"""Risk by documented factors: directions as the sources have them, signs above points, and what changes most today."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from herd.science.errors import OutOfRange
from herd.science.risk import readings
from herd.science.risk.factors import BANDS
from herd.science.risk.milk_fever import MilkFeverFacts, milk_fever_risk
from herd.science.risk.toxemia import ToxemiaFacts, toxemia_risk

CALM = ToxemiaFacts(days_to_kidding=20, litter=2, counted=True, score=3.0, energy_share=1.0, bhb_mmol_l=0.3)
OLD = MilkFeverFacts(
    litter=2, kidding=2, gestation_day=130, days_to_kidding=20, counted=True, ca_share=1.1, mg_g_kg=1.5
)
WORSE_TOXEMIA = [
    {"litter": 3},
    {"score": 4.25},
    {"score": 2.0},
    {"energy_share": 0.90},
    {"energy_share": 0.75},
    {"upset": True},
    {"sick": True},
    {"previous": True},
    {"slow": True},
    {"refused": True},
    {"bhb_mmol_l": 0.6},
    {"bhb_mmol_l": 1.0},
    {"bhb_mmol_l": 2.0},
    {"bhb_mmol_l": None, "urine": "small"},
]
WORSE_MILK_FEVER = [
    {"litter": 3},
    {"kidding": 3},
    {"previous": True},
    {"milk_kg": 4.5},
    {"ca_share": 0.8},
    {"ca_share": 1.6, "k_g_kg": 26.0},
    {"mg_g_kg": 1.0},
    {"upset": True},
    {"toxemia_signs": True},
]


@pytest.mark.parametrize("change", WORSE_TOXEMIA)
def test_what_sources_call_a_risk_raises_the_score(change: dict[str, Any]) -> None:
    """Dore 2015, Lima 2016, Murugeswari 2023, extension text: direction only; the points are judgement."""
    before, after = toxemia_risk(CALM), toxemia_risk(replace(CALM, **change))
    assert after.score > before.score
    assert BANDS.index(after.band) >= BANDS.index(before.band)
    assert after.standing == "judgement"


@pytest.mark.parametrize("change", WORSE_MILK_FEVER)
def test_what_sources_call_a_risk_of_milk_fever_raises_the_score(change: dict[str, Any]) -> None:
    """Merck 2022, a Texas veterinary sheet, Wilkens: direction only; the points are judgement."""
    after = milk_fever_risk(replace(OLD, **change))
    assert after.score > milk_fever_risk(OLD).score


def test_a_calm_doe_with_twins_is_low() -> None:
    assert toxemia_risk(CALM).band == "low"
    assert milk_fever_risk(OLD).band == "low"


def test_points_of_the_milk_fever_list_add_up() -> None:
    """Third kidding 1, triplets 2, calcium under 90 % of need 2: 5, urgent."""
    found = milk_fever_risk(replace(OLD, litter=3, kidding=3, ca_share=0.85))
    assert (found.score, found.band) == (5, "urgent")
    assert [factor.code for factor in found.factors] == ["calcium_short", "triplets", "older"]


def test_a_sign_is_never_outvoted() -> None:
    """Any doe off her feed or down is for the vet whatever her ketones read."""
    calm_but_off = replace(CALM, refused=True, litter=1, bhb_mmol_l=0.2)
    for facts in (calm_but_off, replace(CALM, down=True, litter=1), replace(calm_but_off, days_to_kidding=60)):
        found = toxemia_risk(facts)
        assert found.band == "urgent"
        assert found.by_sign
    assert milk_fever_risk(replace(OLD, litter=1, signs=True, gestation_day=80)).band == "urgent"


def test_a_reading_that_calls_the_vet_calls_the_vet() -> None:
    assert toxemia_risk(replace(CALM, bhb_mmol_l=1.6, litter=1)).by_sign
    assert not toxemia_risk(replace(CALM, bhb_mmol_l=1.5, litter=1)).by_sign
    assert toxemia_risk(replace(CALM, bhb_mmol_l=None, urine="moderate")).by_sign
    assert toxemia_risk(replace(CALM, bhb_mmol_l=None, urine="trace", sick=True)).by_sign


def test_outside_the_window_nothing_is_said_and_nothing_cleared() -> None:
    early = toxemia_risk(replace(CALM, days_to_kidding=43))
    assert (early.band, early.score, early.factors) == ("outside", 0, ())
    assert milk_fever_risk(replace(OLD, gestation_day=107)).band == "outside"
    assert milk_fever_risk(MilkFeverFacts(litter=2, kidding=3, days_in_milk=71)).band == "outside"
    assert milk_fever_risk(MilkFeverFacts(litter=2, kidding=3, days_in_milk=70)).band != "outside"


def test_what_changes_it_most_today_is_something_the_keeper_can_do() -> None:
    fat_and_short = toxemia_risk(replace(CALM, litter=3, score=4.25, energy_share=0.7))
    assert fat_and_short.factors[0].code == "triplets"
    assert fat_and_short.change is not None
    assert fat_and_short.change.code == "energy_well_short"
    assert toxemia_risk(CALM).change is None


def test_what_nobody_knows_is_asked_for() -> None:
    blind = toxemia_risk(ToxemiaFacts(days_to_kidding=20, litter=2.06))
    assert blind.find_out == ("ketones", "litter", "score", "energy")
    assert toxemia_risk(CALM).find_out == ()
    assert milk_fever_risk(MilkFeverFacts(litter=2, kidding=3, days_in_milk=3)).find_out == ("calcium", "magnesium")


def test_blood_is_believed_before_urine() -> None:
    found = toxemia_risk(replace(CALM, bhb_mmol_l=0.3, urine="small"))
    assert {factor.code for factor in found.factors} >= {"blood_ketones_ok"}
    assert not any(factor.code.startswith("urine") for factor in found.factors)


def test_directions() -> None:
    found = {factor.code: factor.direction for factor in toxemia_risk(CALM).factors}
    assert found == {"last_month": "raises", "twins": "raises", "blood_ketones_ok": "lowers"}


@given(st.floats(-30, 200), st.floats(1, 6), st.none() | st.floats(1, 5), st.none() | st.floats(0, 5))
def test_any_doe_gets_an_answer(days: float, litter: float, score: float | None, share: float | None) -> None:
    found = toxemia_risk(ToxemiaFacts(days, litter, score=score, energy_share=share))
    assert found.band in BANDS
    assert found.score >= 0


@pytest.mark.parametrize("wrong", [{"litter": 0}, {"score": 6.0}, {"energy_share": -0.1}, {"bhb_mmol_l": 13.0}])
def test_impossible_facts_are_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(OutOfRange):
        toxemia_risk(replace(CALM, **wrong))


@pytest.mark.parametrize(
    ("mmol", "band"),
    [
        (0.49, "ok"),
        (0.5, "watch"),
        (0.79, "watch"),
        (0.8, "subclinical"),
        (1.59, "subclinical"),
        (1.6, "clinical"),
        (3.0, "emergency"),
    ],
)
def test_ketone_bands(mmol: float, band: str) -> None:
    """0.8 and 1.6 (Marutsova 2017, Vijayanand 2022); 0.5 judged within Dore's 0.4 to 0.9; 3.0 recalled."""
    assert readings.ketone_band(mmol) == band


@pytest.mark.parametrize(
    ("temp", "band"),
    [(37.9, "red_low"), (38.0, "amber_low"), (38.5, "ok"), (39.7, "ok"), (39.8, "amber_high"), (40.5, "red_high")],
)
def test_temperature_bands(temp: float, band: str) -> None:
    """Adults 38.6 to 40.0 (Penn), 39.1 with 0.5 either way (Texas); the lines between are judgement."""
    assert readings.temperature_band(temp) == band


def test_bands_leave_no_hole_and_keep_their_order() -> None:
    temps = [readings.TEMPERATURE_BANDS.index(readings.temperature_band(t)) for t in np.arange(30, 44, 0.01)]
    ketones = [readings.KETONE_BANDS.index(readings.ketone_band(b)) for b in np.arange(0, 12, 0.01)]
    calcium = [readings.CALCIUM_BANDS.index(readings.calcium_band(c)) for c in np.arange(0.3, 5, 0.01)]
    for ranks in (temps, ketones, calcium):
        assert ranks == sorted(ranks)


def test_a_cold_kid() -> None:
    """Under 37 severe, 37 to 38.5 mild (kid and lamb guides)."""
    assert [readings.kid_temperature_band(t) for t in (36.9, 37.0, 38.4, 38.5)] == ["emergency", "cold", "cold", "ok"]


def test_urine_strip() -> None:
    assert [readings.urine_band(strip) for strip in readings.URINE] == ["ok", "repeat", "subclinical", "vet", "vet"]
    assert readings.urine_band("trace", with_signs=True) == "vet"
    assert readings.urine_band("negative", with_signs=True) == "ok"
    with pytest.raises(KeyError):
        readings.urine_band("purple")


def test_serum_calcium() -> None:
    """6 mg/dL is 1.50 mmol/L (veterinary sheet, clinical below)."""
    assert readings.calcium_mmol_l(6) == pytest.approx(1.50, abs=0.005)
    assert [readings.calcium_band(c) for c in (2.1, 1.9, 1.6, 1.4)] == ["normal", "low", "vet", "emergency"]
    assert readings.ketone_mg_dl(1.0) == pytest.approx(10.4)
