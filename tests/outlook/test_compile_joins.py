"""Days that join: nothing jumps where a phase ends, and need goes with litter, day and milk."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from herd.outlook.compile import compile_doe
from tests.support.compiled import DOELING, MINI, STANDARD, TODAY, ago, bred, folded, fresh, scanned, weighed

CLASSES = {"mini": (MINI, 30), "standard": (STANDARD, 62), "doeling": (DOELING, 22)}
SMOOTH = ("me_kj", "cp_mg", "ca_mg", "p_mg", "maint_kj", "preg_me_kj", "me_sd_kj")
MOST_A_DAY = 0.05  # a conceptus gains at most about a twentieth a day while it is small


def doc(name: str, rules: dict[str, int] | None = None, **state: Any) -> Any:
    f, kg = CLASSES[name]
    return compile_doe(folded(f, weights=weighed(kg), **state), rules or {}, TODAY, "doe")


def carried(name: str, served: int, kids: int, **rules: int) -> Any:
    return doc(name, rules, bred=bred(served), check=scanned(kids))["branches"]["as_is"]


@pytest.mark.parametrize("name", CLASSES)
@pytest.mark.parametrize("served", [30, 60, 90, 120])
def test_no_need_jumps_from_a_day_to_the_next_while_she_carries(name: str, served: int) -> None:
    branch = carried(name, served, 2)
    days = [i for i, gest in enumerate(branch["gest"]) if gest >= 1]
    for figure in SMOOTH:
        for i, k in pairwise(days):
            before, after = branch[figure][i], branch[figure][k]
            assert abs(after - before) <= max(30, MOST_A_DAY * max(before, after)), (figure, i)


@pytest.mark.parametrize("name", CLASSES)
def test_the_late_floor_joins_its_days_and_never_falls_before_her_appetite_does(name: str) -> None:
    branch = carried(name, 110, 2)
    late = [i for i, gest in enumerate(branch["gest"]) if gest >= 100]
    assert len(late) > 30
    steps = [abs(branch["floor_me_kj"][k] - branch["floor_me_kj"][i]) for i, k in pairwise(late)]
    assert max(steps) < 0.03 * max(branch["floor_me_kj"])


@pytest.mark.parametrize("name", CLASSES)
@pytest.mark.parametrize("choice", [{}, {"maintenance_system": 1}, {"calcium_absorption_pm": 300}])
def test_need_rises_with_litter_and_with_day(name: str, choice: dict[str, int]) -> None:
    one, two, three = (carried(name, 110, kids, **choice) for kids in (1, 2, 3))
    for figure in ("me_kj", "cp_mg", "ca_mg", "p_mg"):
        # conception is counted back from the due date, which comes sooner with more kids
        for day in (110, 125, 140):
            least, more, most = (litter[figure][litter["gest"].index(day)] for litter in (one, two, three))
            assert least < more < most
        along = [two[figure][two["gest"].index(day)] for day in range(100, 140, 5)]
        assert along == sorted(along)


def test_need_rises_with_milk_and_the_drivers_are_never_negative() -> None:
    for name in CLASSES:
        drivers = doc(name, kidded=fresh(60), kiddings=1)["drivers"]
        assert all(value >= 0 for value in drivers.values())
        assert min(drivers[f"{key}_mg_per_kg_milk"] for key in ("cp", "ca", "p")) > 0
        assert drivers["me_kj_per_point"] > drivers["me_kj_per_point_lost"] > 0


def test_milk_falls_smoothly_into_dry_off_and_the_dry_day_is_the_only_step() -> None:
    milks = [[ago(day), 2000, "morning", 0, "m"] for day in range(4, 60, 7)]
    state: dict[str, Any] = {"bred": bred(60), "check": scanned(2), "kidded": fresh(200), "kiddings": 3, "milks": milks}
    milk = doc("standard", **state)["branches"]["as_is"]["milk_g"]
    falls = [(before - after) / before for before, after in pairwise(milk) if after]
    assert max(falls) < 0.12
    assert milk[-1] == 0
    assert sum(1 for before, after in pairwise(milk) if before and not after) == 1


@pytest.mark.parametrize("kg", [20, 30, 45, 60, 90])
def test_a_point_of_condition_is_worked_by_hand(kg: int) -> None:
    """12 % of her weight in a point (ewes); 40 MJ to put a kilogram on, 28 MJ lost with one."""
    drivers = compile_doe(folded(STANDARD, weights=weighed(kg)), {}, TODAY, "doe")["drivers"]
    assert drivers["me_kj_per_point"] == pytest.approx(kg * 0.12 * 40_000 / 100, abs=1)
    assert drivers["me_kj_per_point_lost"] == pytest.approx(kg * 0.12 * 28_000 / 100, abs=1)
    assert (drivers["point_sd_pm"], drivers["score_sd_x100"]) == (420, 30)
