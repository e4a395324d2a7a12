"""The rule plan and the calendar. What each doe should get is common practice, no source, unless said."""

from typing import Any

import pytest

from herd.outlook.compile import BEFORE_D, compile_doe
from tests.support.compiled import DOELING, MINI, STANDARD, TODAY, ago, bred, folded, fresh, scanned, scored, weighed

NOW = BEFORE_D
DRYING_OFF, DRY, CLOSE_UP, WATCH = 4, 5, 6, 7


def doc(f: dict[str, Any], **state: Any) -> Any:
    return compile_doe(folded(f, **state), {}, TODAY, "doe")


def milker(days_bred: int = 85) -> Any:
    milks = [[ago(day), 1800, "morning", 0, "m"] for day in (1, 2, 3)]
    return doc(STANDARD, bred=bred(days_bred), kidded=fresh(250), kiddings=1, milks=milks, weights=weighed(60))


@pytest.mark.parametrize("f", [MINI, STANDARD])
def test_grown_dry_doe_has_no_grain_until_close_up(f: dict[str, Any]) -> None:
    branch = doc(f, bred=bred(100), weights=weighed(35))["branches"]["as_is"]
    for phase, grain in zip(branch["phase"], branch["plan_grain_g"], strict=True):
        assert (grain > 0) == (phase in (CLOSE_UP, WATCH))


@pytest.mark.parametrize(("f", "kg"), [(MINI, 30), (STANDARD, 60), (DOELING, 24)])
def test_steps_are_small_spaced_and_end_within_the_limits(f: dict[str, Any], kg: float) -> None:
    found = doc(f, bred=bred(115), check=scanned(2), weights=weighed(kg, 0), scores=scored(300))
    limits, steps = found["limits"], found["steps"]
    grams = [0, *(step["g"] for step in steps)]
    days = [int(step["on"][-2:]) for step in steps]
    assert len(steps) >= 4
    assert all(0 < b - a <= limits["step_g"] for a, b in zip(grams, grams[1:], strict=False))
    assert all((b - a) % 31 >= limits["step_days"] - 1 for a, b in zip(days, days[1:], strict=False))
    assert grams[-1] <= limits["grain_day_g"]
    assert grams[-1] * 890 <= 9 * kg * 1000, "about the published 8 g DM/kg before kidding"


def test_no_step_is_taken_back_before_kidding() -> None:
    branch = doc(STANDARD, bred=bred(115), check=scanned(3), weights=weighed(60))["branches"]["as_is"]
    grain = branch["plan_grain_g"]
    assert all(b >= a for a, b in zip(grain, grain[1:], strict=False))


def test_close_up_starts_by_litter_and_condition() -> None:
    first = {
        name: doc(MINI, bred=bred(100), scores=scored(x100), **({"check": scanned(kids)} if kids else {}))["steps"][0][
            "on"
        ]
        for name, kids, x100 in [("single", 1, 300), ("twins", 2, 300), ("unscanned", 0, 300), ("fat", 0, 400)]
    }
    assert first["twins"] < first["single"]
    assert abs(int(first["unscanned"][-2:]) - int(first["twins"][-2:])) <= 1
    assert first["fat"] == first["single"] == "2027-01-04"


def test_at_dry_off_grain_comes_down_then_milk_then_legume() -> None:
    branch = milker()["branches"]["as_is"]
    drying = [i for i, phase in enumerate(branch["phase"]) if phase == DRYING_OFF]
    stops = drying[-1] + 1
    grain, milk, legume = (branch[key] for key in ("plan_grain_g", "milk_g", "plan_legume_pm"))
    assert grain[drying[4]] < grain[drying[0] - 1]
    assert milk[stops - 1] > 0 == milk[stops]
    assert milk[drying[2]] == pytest.approx(milk[drying[0]], rel=0.02)
    assert set(legume[: stops + 1]) == {500}
    assert legume[stops + 7] == 200


def test_calcium_need_follows_milk_down_and_the_plan_never_leads_it() -> None:
    found = milker()
    branch, per_kg = found["branches"]["as_is"], found["drivers"]["ca_mg_per_kg_milk"]
    need = [ca + milk * per_kg // 1000 for ca, milk in zip(branch["ca_mg"], branch["milk_g"], strict=True)]
    stops = branch["milk_g"].index(0)
    assert need[stops] < 0.8 * need[stops - 8]
    falls = next(i for i, pm in enumerate(branch["plan_legume_pm"]) if pm < 500)
    assert falls > stops


def test_dry_off_counts_from_the_earliest_service_and_never_lies_in_the_past() -> None:
    branch = milker(120)["branches"]["as_is"]
    assert branch["phase"][NOW] == DRYING_OFF
    assert branch["milk_g"][NOW + 15] == 0


def test_legume_rises_with_the_grain_before_kidding() -> None:
    branch = doc(STANDARD, bred=bred(115), weights=weighed(60))["branches"]["as_is"]
    first = branch["plan_grain_g"].index(100)
    assert branch["plan_legume_pm"][first - 1] == 200
    assert branch["plan_legume_pm"][first + 10] > 250
    assert max(branch["plan_legume_pm"]) == 400


def test_first_freshener_gets_better_hay_before_any_grain() -> None:
    branch = doc(DOELING, bred=bred(80))["branches"]["as_is"]
    assert branch["plan_legume_pm"][NOW] == 400
    assert branch["plan_grain_g"][NOW] == 0


def test_fresh_doe_starts_from_her_close_up_grain_and_rises_by_steps() -> None:
    found = doc(STANDARD, bred=bred(140), weights=weighed(60), check=scanned(2))
    grain, before = found["branches"]["kidded2"]["plan_grain_g"], found["steps"][-1]["g"]
    assert grain[0] <= before
    assert max(b - a for a, b in zip(grain, grain[1:], strict=False)) <= found["limits"]["step_g"]
    assert grain[40] > before


def test_season_runs_from_conception_to_a_month_after_due() -> None:
    season = milker()["season"]
    assert season["day0"] == ago(85)
    assert len(season["me_kj"]) == 151 + 30
    assert season["me_kj"][0] > season["me_kj"][95], "with her milk at first, without it once dry"
    assert season["phase"][151] == 8
    assert [floor > 0 for floor in season["floor_me_kj"][:151]] == [day >= 100 for day in range(151)]


def test_season_meets_the_branch_on_the_same_day() -> None:
    found = doc(STANDARD, bred=bred(120), check=scanned(2), weights=weighed(60))
    assert found["season"]["me_kj"][120] == found["branches"]["as_is"]["me_kj"][NOW]
    assert found["season"]["appetite_g"][120] == found["branches"]["as_is"]["appetite_g"][NOW]


def test_open_branch_of_a_milker_keeps_her_milking() -> None:
    branch = milker()["branches"]["open"]
    assert set(branch["gest"]) == {-1}
    assert min(branch["milk_g"]) > 1000


def test_dry_branch_stops_milk_and_grain() -> None:
    branch = milker()["branches"]["dry"]
    assert set(branch["milk_g"]) == {0}
    assert branch["phase"][NOW] == DRY
    assert branch["plan_grain_g"][NOW] == 0
