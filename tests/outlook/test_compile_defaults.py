"""What is compiled where nobody has said: weight by class, milk without a kidding date, a lactation without an end.

Worked by hand from the judged shares of growth.toml, lactation.toml and assumed.toml and the Wood curve.
"""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.compile import BEFORE_D, compile_doe
from herd.science.body.growth import is_grown
from herd.science.risk.milk_fever import milk_fever_factors
from tests.support.compiled import DOELING, STANDARD, TODAY, ago, folded, fresh, weighed

NOW = BEFORE_D


def doc(f: dict[str, Any], **state: Any) -> Any:
    return compile_doe(folded(f, **state), {}, TODAY, "doe")


def test_a_doeling_of_unknown_age_weighs_seven_tenths_of_her_breed() -> None:
    """0.70 x 62 kg Alpine and 0.70 x 34 kg Nigerian Dwarf: bred at 60 %, kids near 75 to 80 %."""
    assert doc({**STANDARD, "kiddings_before": 0})["who"]["mass_g"] == 43_400
    assert doc(DOELING)["who"]["mass_g"] == 23_800


@pytest.mark.parametrize(
    ("kg", "age_d", "grown"), [(57.1, None, True), (56.9, None, False), (40.0, 730, True), (40.0, 729, False)]
)
def test_she_is_grown_at_95_hundredths_or_two_years(kg: float, age_d: float | None, grown: bool) -> None:
    assert is_grown(kg, 60.0, age_d) is grown


def test_a_first_lactation_gives_four_fifths() -> None:
    """Alpine, twins, day 60: 900 x 1.06 x 61^0.20 exp(-61 / 225) / 409.28, grown; x 0.80, 0.15, 1 / 366.67, 412.16."""
    state = {"kidded": fresh(60), "kiddings": 1, "weights": weighed(60)}
    grown, first = (doc({**STANDARD, "kiddings_before": before}, **state) for before in (2, 0))
    assert grown["branches"]["as_is"]["milk_g"][NOW] == pytest.approx(4045, abs=3)
    assert first["branches"]["as_is"]["milk_g"][NOW] == pytest.approx(2904, abs=3)


def test_milk_without_a_kidding_falls_as_in_mid_lactation() -> None:
    """Alpine, twins, day 60: 900 x 1.06 x 61^0.20 exp(-61 / 225) / 409.28; first x 0.80, 0.15, 366.67, 412.16."""
    milk = doc(STANDARD, milks=[[ago(2), 2000, "morning", 0, "m"]])["branches"]["as_is"]["milk_g"]
    assert milk[NOW + 20] / milk[NOW] == pytest.approx(0.9429, abs=0.0007)


def test_weighed_four_weeks_ago_and_never_kidded_she_is_not_in_milk() -> None:
    for days, milking in ((20, True), (22, False)):
        doe = doc(STANDARD, milks=[[ago(days), 2000, "morning", 0, "m"]], weights=weighed(60))
        assert any(doe["branches"]["as_is"]["milk_g"]) is milking


def test_a_lactation_past_800_days_is_held() -> None:
    milk = doc(STANDARD, kidded=fresh(780), kiddings=1, weights=weighed(60))["branches"]["as_is"]["milk_g"]
    held = milk.index(milk[-1])
    # the curve's day is one more than the days since kidding
    assert 799 - 780 + NOW - 3 <= held <= 799 - 780 + NOW


@pytest.mark.parametrize(("kg", "heavy"), [(3.9, False), (4.1, True)])
def test_four_kilograms_a_day_is_heavy_milk(kg: float, heavy: bool) -> None:
    assert ("heavy_milk" in {factor.code for factor in milk_fever_factors(1.0, 1, False, kg)}) is heavy
