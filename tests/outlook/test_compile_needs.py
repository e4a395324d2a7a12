"""Numbers of the compiled days: worked by hand from published coefficients, and what must rise, fall and join."""

from typing import Any

import pytest

from herd.outlook.compile import BEFORE_D, compile_doe
from tests.support.compiled import DOELING, MINI, STANDARD, TODAY, ago, bred, folded, fresh, scanned, scored, weighed

NOW = BEFORE_D


def doc(f: dict[str, Any], rules: dict[str, int] | None = None, **state: Any) -> Any:
    return compile_doe(folded(f, **state), rules or {}, TODAY, "doe")


def as_is(f: dict[str, Any], rules: dict[str, int] | None = None, **state: Any) -> dict[str, list[int]]:
    return dict(doc(f, rules, **state)["branches"]["as_is"])


def carrying(kids: int, **more: Any) -> dict[str, list[int]]:
    return as_is(STANDARD, bred=bred(130), check=scanned(kids), weights=weighed(60), **more)


def test_open_grown_doe_needs_her_maintenance() -> None:
    """501.3 x 60^0.75 = 10 807 kJ; 0.060 x 60^0.75 = 1.293 kg (Luo 2004; mean of read intakes), by hand."""
    branch = as_is(STANDARD, weights=weighed(60))
    assert branch["me_kj"][NOW] == 10807
    assert branch["appetite_g"][NOW] == 1293
    assert branch["preg_me_kj"][NOW] == branch["floor_me_kj"][NOW] == 0


def test_low_maintenance_is_a_herd_rule() -> None:
    """450 x 60^0.75 = 9701 kJ (GfE 2003)."""
    assert as_is(STANDARD, {"maintenance_system": 1}, weights=weighed(60))["me_kj"][NOW] == 9701


def test_keeper_factor_is_on_maintenance() -> None:
    easy, hard = (as_is({**STANDARD, "keeper": k}, weights=weighed(60))["me_kj"][NOW] for k in ("easy", "hard"))
    assert easy == pytest.approx(10807 * 0.93, abs=1)
    assert hard == pytest.approx(10807 * 1.08, abs=1)


def test_drivers_by_hand() -> None:
    """FCM (1.4694 + 0.4025 x 4) / 3.0794; 1.25/0.40, 0.95/0.65, 0.67/0.40, 0.905/0.65 g; 26.7/0.672 g."""
    drivers = doc({**STANDARD, "fat_x100": 400}, weights=weighed(60))["drivers"]
    assert drivers["fcm_pm"] == 1000
    assert drivers["me_kj_per_kg_fcm"] == 5195
    assert (drivers["ca_mg_per_kg_milk"], drivers["p_mg_per_kg_milk"]) == (3125, 1462)
    assert (drivers["ca_mg_per_kg_dm"], drivers["p_mg_per_kg_dm"]) == (1675, 1392)
    assert drivers["cp_mg_per_kg_dm"] == 39732
    assert (drivers["g_per_unit"], drivers["me_kj_per_point"]) == (7200, 2880)


def test_calcium_follows_milk_and_nothing_else_of_it() -> None:
    """One kilogram more milk asks for 3.1 g of calcium through the driver; the compiled part is milk-free."""
    milks = [[ago(2), 2000, "morning", 0, "m"]]
    milker = as_is(STANDARD, weights=weighed(60), kidded=fresh(200), kiddings=1, milks=milks)
    dry = as_is(STANDARD, weights=weighed(60))
    assert milker["milk_g"][NOW] > 1900
    assert milker["ca_mg"][NOW] == dry["ca_mg"][NOW]


def test_needs_rise_with_the_litter_and_the_day() -> None:
    one, two, three = (carrying(kids) for kids in (1, 2, 3))
    for key in ("me_kj", "cp_mg", "ca_mg", "p_mg", "preg_me_kj"):
        assert one[key][NOW] < two[key][NOW] < three[key][NOW]
        assert all(a <= b for a, b in zip(two[key], two[key][1:], strict=False)), key


def test_no_step_in_need_from_day_to_day() -> None:
    for kids in (1, 3):
        branch = carrying(kids)
        for key in ("me_kj", "preg_me_kj", "cp_mg", "ca_mg", "appetite_g"):
            jumps = [abs(b - a) / max(a, 1) for a, b in zip(branch[key], branch[key][1:], strict=False)]
            assert max(jumps) < 0.04, key


def test_appetite_falls_late_by_litter_and_holds_past_due() -> None:
    """To 0.75, 0.65, 0.60 of 69.8 g per kg0.75 at 60 kg, 1505 g, at kidding."""
    for kids, left in ((1, 0.75), (2, 0.65), (3, 0.60)):
        assert carrying(kids)["appetite_g"][-1] == pytest.approx(1504.8 * left, abs=1)


def test_late_floor_starts_at_the_rule_and_stays_below_demand() -> None:
    branch = as_is(STANDARD, bred=bred(95), check=scanned(2), weights=weighed(60))
    for gest, floor, need in zip(branch["gest"], branch["floor_me_kj"], branch["me_kj"], strict=True):
        assert (floor > 0) == (gest >= 100)
        assert floor < need


def test_late_floor_never_asks_more_than_she_can_eat() -> None:
    """Densest ration: 40 % barley at 12.7 and hay at 9.2 MJ = 10.6 MJ/kg."""
    branch = carrying(3)
    assert all(f <= 10.61 * a for f, a in zip(branch["floor_me_kj"], branch["appetite_g"], strict=True) if f)


def test_weight_taken_late_is_stripped_of_the_conceptus() -> None:
    late = doc(STANDARD, bred=bred(140), check=scanned(2), weights=weighed(68, 0))
    assert "conceptus_taken_off" in late["assumed"]
    assert 57000 < late["who"]["mass_g"] < 61000


def test_class_and_a_date_are_enough() -> None:
    found = doc({"size": "mini"}, bred=bred(40))
    assert found["withheld"] == []
    assert {"mass_by_class", "litter_not_counted", "breed_unknown", "kidded_before"} <= set(found["assumed"])
    assert found["branches"]["as_is"]["me_kj"][NOW] > 6000
    assert found["due"]["printed"] == "2027-03-10"


def test_miniature_in_rich_milk_can_eat_to_her_need() -> None:
    """32 kg, 1 kg of 6.66 % milk: the ration she needs is no denser than good hay with a third of grain."""
    milks = [[ago(day), 1000, "morning", 666, "m"] for day in (1, 2, 3)]
    found = doc(MINI, weights=weighed(32), kidded=fresh(120), kiddings=1, milks=milks)
    branch, drivers = found["branches"]["as_is"], found["drivers"]
    fcm = branch["milk_g"][NOW] * drivers["fcm_pm"] / 10**6
    need = branch["me_kj"][NOW] + fcm * drivers["me_kj_per_kg_fcm"]
    eaten = branch["appetite_g"][NOW] + fcm * drivers["appetite_g_per_kg_fcm"]
    assert branch["milk_g"][NOW] == pytest.approx(1000, rel=0.01)
    assert need / eaten < 0.33 * 12.7 + 0.67 * 8.8


def test_growing_doeling_pays_for_growth_and_uses_the_growing_protein() -> None:
    growing = doc({**DOELING, "growing": True}, bred=bred(110), weights=weighed(24, 0))
    grown = doc({**DOELING, "growing": False}, bred=bred(110), weights=weighed(24, 0))
    assert growing["drivers"]["cp_mg_per_kg_dm"] == 0 < grown["drivers"]["cp_mg_per_kg_dm"]
    assert growing["branches"]["as_is"]["me_kj"][NOW] > grown["branches"]["as_is"]["me_kj"][NOW]
    assert set(growing["branches"]["as_is"]["lane"]) == {2}
    assert growing["branches"]["kidded1"]["cp_mg"][20] > grown["branches"]["kidded1"]["cp_mg"][20]


def test_her_own_weighings_scale_the_curve() -> None:
    for g in (1200, 2400):
        milks = [[ago(day), g, "morning", 0, "m"] for day in range(1, 8)]
        branch = as_is(STANDARD, kidded=fresh(150), kiddings=1, milks=milks, scores=scored(300))
        # seven weighings count 44 times what is usual for her breed, which still draws a far one a little
        assert branch["milk_g"][NOW - 4] == pytest.approx(g, rel=0.05)


DATED = ("early", "mid", "late", "printed")


def test_due_dates_of_a_hand_bred_and_a_pen_bred_doe() -> None:
    """Alpine 151.4 d, less 0.6 x 0.15 for twins; 2 % quantile 5.75 days before."""
    hand = doc(STANDARD, bred=bred(100), check=scanned(2))["due"]
    assert {name: hand[name] for name in DATED} == {
        "early": "2027-01-09",
        "mid": "2027-01-15",
        "late": "2027-01-22",
        "printed": "2027-01-14",
    }
    pen = doc(STANDARD, bred=bred(100, 42), check=scanned(2))["due"]
    assert hand["early"] < pen["early"] < hand["mid"]
    assert pen["late"] > "2027-02-10"
