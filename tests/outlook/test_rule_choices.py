"""Documented alternatives as herd rules: each value is its published figure; what compiling makes of it, by hand."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.compile import BEFORE_D, compile_doe
from herd.outlook.rule_choices import CHOICES, VETS_RULE, documented
from herd.outlook.rules import RULES
from herd.science.base.alternatives import alternative
from tests.support.compiled import MINI, STANDARD, TODAY, bred, folded, scanned, weighed

NOW = BEFORE_D
CODES = ("maintenance_system", "late_floor_system", "calcium_before_kidding")
AS_PERMILLE = {"calcium_absorption_pm": 1000, "close_up_before_d": 1}


def doc(f: dict[str, Any], rules: dict[str, int], **state: Any) -> Any:
    return compile_doe(folded(f, **state), rules, TODAY, "doe")


def late(day: int, kids: int = 2, **rules: int) -> Any:
    return doc(STANDARD, rules, bred=bred(day), check=scanned(kids), weights=weighed(60))


@pytest.mark.parametrize("rule", CHOICES)
def test_our_default_comes_first_and_is_the_default_of_the_science(rule: str) -> None:
    ours, *others = CHOICES[rule]
    assert ours.value == RULES[rule].default
    assert alternative(ours.of, ours.choice).default
    assert others
    assert not any(alternative(one.of, one.choice).default for one in others)
    assert all(RULES[rule].low <= one.value <= RULES[rule].high for one in CHOICES[rule])


@pytest.mark.parametrize("rule", AS_PERMILLE)
def test_a_rule_that_is_a_number_is_the_published_number(rule: str) -> None:
    for one in CHOICES[rule]:
        assert one.value == pytest.approx(AS_PERMILLE[rule] * alternative(one.of, one.choice).value)


def test_a_value_of_the_farms_own_stands_for_no_source() -> None:
    assert documented("calcium_absorption_pm", 350) is None
    found = documented("calcium_absorption_pm", 300)
    assert found is not None
    assert found.source == "meschy2002"


@pytest.mark.parametrize(("absorbed_pm", "times"), [(300, 4 / 3), (450, 8 / 9)])
def test_calcium_absorption_divides_every_part(absorbed_pm: int, times: float) -> None:
    """INRA 0.40; Meschy 2002 0.30 asks for a third more; NRC 2007 0.45 for a ninth less."""
    ours, theirs = late(130), late(130, calcium_absorption_pm=absorbed_pm)
    for name in ("ca_mg", "preg_ca_mg"):
        here, there = ours["branches"]["as_is"][name][NOW], theirs["branches"]["as_is"][name][NOW]
        assert there == pytest.approx(here * times, abs=1)
    for name in ("ca_mg_per_kg_milk", "ca_mg_per_kg_dm"):
        assert theirs["drivers"][name] == pytest.approx(ours["drivers"][name] * times, abs=1)
    assert theirs["branches"]["as_is"]["p_mg"] == ours["branches"]["as_is"]["p_mg"]


def test_the_german_floor_is_month_five_and_steps_where_its_table_steps() -> None:
    """450 and 600 x 60^0.75 = 9701 and 12935 kJ (GfE 2003); alpine twins carry 151 days, so month 5 is from day 122."""
    branch = late(110, late_floor_system=1)["branches"]["as_is"]
    by_day = dict(zip(branch["gest"], branch["floor_me_kj"], strict=True))
    assert by_day[99] == 0
    assert {by_day[day] for day in range(100, 122)} == {9701}
    assert by_day[122] == pytest.approx(12935, abs=1)
    ours = dict(zip(branch["gest"], late(110)["branches"]["as_is"]["floor_me_kj"], strict=True))
    assert abs(by_day[135] - ours[135]) < 1500


def test_the_german_floor_never_asks_a_single_for_more_than_she_needs() -> None:
    branch = late(125, 1, late_floor_system=1)["branches"]["as_is"]
    carried = [
        (f, n) for f, n, g in zip(branch["floor_me_kj"], branch["me_kj"], branch["gest"], strict=True) if g > 100
    ]
    assert carried
    assert all(floor <= need for floor, need in carried)


def test_legume_is_held_back_only_by_the_vets_rule_and_comes_back_at_kidding() -> None:
    held = late(140, calcium_before_kidding=VETS_RULE)["branches"]
    usual = late(140)["branches"]
    close = [i for i, phase in enumerate(usual["as_is"]["phase"]) if phase == 6]
    assert max(usual["as_is"]["plan_legume_pm"][i] for i in close) > 300
    assert {held["as_is"]["plan_legume_pm"][i] for i in close} == {200}
    assert held["kidded2"]["plan_legume_pm"] == usual["kidded2"]["plan_legume_pm"]


@pytest.mark.parametrize(("days", "many"), [(14, 25), (21, 25), (30, 30), (42, 42)])
def test_a_longer_close_up_is_never_shorter_for_twins(days: int, many: int) -> None:
    """A growing standard doe nobody scanned is everybody else; counted twins are many."""
    for kids, before in ((0, days), (2, many)):
        check = {"check": scanned(kids)} if kids else {}
        made = doc(STANDARD, {"close_up_before_d": days}, bred=bred(100), weights=weighed(60), **check)
        branch = made["branches"]["as_is"]
        first = branch["gest"][branch["phase"].index(6)]
        length = 151 if kids else 152
        assert abs(first - (length - before)) <= 1


def test_defaults_are_what_no_choice_gives() -> None:
    chosen = {name: RULES[name].default for name in CHOICES}
    for f in (STANDARD, MINI):
        state = {"bred": bred(120), "check": scanned(2), "weights": weighed(40)}
        assert doc(f, chosen, **state) == doc(f, {}, **state)
