"""What can be done about a feed prompt: one doe for each rung, a pen, and those for whom nothing is to be done."""

from __future__ import annotations

from typing import Any

import pytest

from tests.support.act_checker import broken
from tests.support.act_farm import BARLEY, FIRST, GRASS, MIXED, barn, farm_of, thin_with_three
from tests.support.some_does import STANDARD, TODAY, SomeDoes, days_from_today, word

ALONE = [name for name in FIRST if name != "briar"]


@pytest.fixture(scope="module")
def farm() -> SomeDoes:
    return farm_of()


@pytest.mark.parametrize("name", FIRST)
def test_each_is_offered_first_what_is_smallest_for_her(farm: SomeDoes, name: str) -> None:
    found = farm.acts(name)
    assert [act["code"] for act in found["offered"]][:1] == [FIRST[name][1]], found
    assert len(found["offered"]) <= 3
    assert found["none"] is None


@pytest.mark.parametrize("name", ALONE)
def test_what_is_offered_keeps_every_limit(farm: SomeDoes, name: str) -> None:
    day = farm.farm()
    for act in farm.acts(name)["offered"]:
        assert broken(day.view, day.book["feeds"], day.outlooks[name], name, act) == [], act["code"]


@pytest.mark.parametrize("name", FIRST)
def test_what_is_offered_is_nothing_the_gate_asks_about(farm: SomeDoes, name: str) -> None:
    for act in farm.acts(name)["offered"]:
        assert farm.farm().ask("warned", act["lines"]) == [], act["code"]


def up(act: dict[str, Any]) -> bool:
    return act["code"] in ("fill_feeder", "own_bowl", "better_hay", "grain_up", "legume_up")


@pytest.mark.parametrize("name", FIRST)
def test_it_says_what_it_brings_and_by_when(farm: SomeDoes, name: str) -> None:
    act = farm.acts(name)["offered"][0]
    brings = act["brings"]
    first = min(on for line in act["lines"] for on, _ in line["steps"])
    assert TODAY < first <= brings["by_on"]
    if up(act):
        assert brings["to_pm"] > brings["from_pm"]
    if act["code"].endswith("_down"):
        assert brings["to_pm"] < brings["from_pm"]


@pytest.mark.parametrize("name", FIRST)
def test_once_it_is_in_the_plan_the_plan_answers_by_itself(name: str) -> None:
    farm = farm_of(name)
    act = farm.acts(name)["offered"][0]
    farm.adopt(act)
    after = farm.acts(name)
    assert after["offered"] == []
    # what was only planned is gone at once, what she ate when her week holds it no more
    assert after["by_plan"] or after["for"] != farm.acts(name)["for"] or not after["for"]
    marks = [mark for row in farm.view()["rations"].values() for mark in row["marks"]]
    assert {mark["act"] for mark in marks} == {act["code"]}
    assert {mark["to_pm"] for mark in marks} == {act["brings"]["to_pm"]}


def test_grain_comes_up_in_the_farms_steps_and_days(farm: SomeDoes) -> None:
    act = farm.acts("ivy")["offered"][0]
    days = [days_from_today(on) for on, _ in act["lines"][0]["steps"]]
    assert all(then - now >= 3 for now, then in zip(days, days[1:], strict=False))
    assert act["lines"][0]["steps"][-1][1] == 320


def late_and_fat() -> SomeDoes:
    """Day 120 with one kid, heavy on rich hay and grain."""
    does = barn()
    does.doe("fern", 60, 120, 1, **STANDARD)
    does.given("pen", **{MIXED: 2000})
    does.given("fern", **{BARLEY: 300})
    does.scored("fern", 400, -20)
    does.scored("fern", 425, -2)
    does.fed_as_planned(-28, 0)
    return does


def test_a_late_doe_is_never_cut() -> None:
    found = late_and_fat().acts("fern")
    assert found["for"] in ("condition_fat", "energy_over", "energy_heading_over", "")
    assert (found["offered"], found["by_plan"]) == ([], "")


def thin_with_nothing_on_hand() -> SomeDoes:
    """Thin on all she can eat of the poorest hay, and there is nothing else."""
    does = SomeDoes()
    does.doe("fern", 60, 50, 2, **STANDARD)
    does.given("pen", prairie_hay=2400)
    does.scored("fern", 250, -5)
    does.fed_as_planned(-28, 0)
    return does


def test_where_nothing_on_hand_does_it_what_would_is_named() -> None:
    found = thin_with_nothing_on_hand().acts("fern")
    assert found["offered"] == []
    assert found["none"]["feed"] in ("orchardgrass_hay_early", "alfalfa_hay_mid", "barley_grain")
    assert found["none"]["g"] > 0
    assert found["none"]["days"] == 14


def test_where_no_feed_does_it_she_is_told_how_short_she_will_be() -> None:
    # all her appetite is filled with hay
    found = thin_with_three(125, 2400).acts("fern")
    assert found["offered"] == []
    assert found["none"]["feed"] == ""
    assert found["none"]["pm"] > 100


def test_a_feed_she_leaves_is_never_offered(farm: SomeDoes) -> None:
    left = {name: farm.view()["does"][name]["f"].get("wont_eat", []) for name in FIRST}
    for name in ("clove", "dock", "briar"):
        fed = {line["feed"] for act in farm.acts(name)["offered"] for line in act["lines"]}
        assert left[name]
        assert not fed & set(left[name])


def test_a_feed_without_known_energy_is_never_offered() -> None:
    does = farm_of("fern")
    does.log.add("feed", "mystery", {"f": {"name": "Mystery", "class": "grass"}, "base": {}}, TODAY)
    fed = {line["feed"] for act in does.acts("fern")["offered"] for line in act["lines"]}
    assert fed
    assert "mystery" not in fed


def test_nothing_is_raised_by_a_weight_that_went_old() -> None:
    does = barn()
    FIRST["dock"][0](does)
    does.fed_as_planned(-28, 0)
    assert [act["code"] for act in does.acts("dock")["offered"]] == ["grain_up"]
    does.log.add("new_bag", "farm", {"feed": BARLEY}, does.on(0))
    assert does.acts("dock")["offered"] == []


def test_a_doe_off_her_feed_is_offered_nothing() -> None:
    does = farm_of("fern")
    does.log.intake("fern", TODAY, "morning", "refused", 100)
    assert word(does.farm(), "fern").startswith("off_feed")
    assert does.acts("fern")["offered"] == []


def test_a_plan_two_people_set_differently_is_settled_first() -> None:
    does = farm_of("fern")
    for g in (700, 650):
        does.log.ration("north", "morning", GRASS, (TODAY, g), base="")
    assert does.farm().view["questions"]
    assert does.acts("fern")["offered"] == []


def three_at_an_empty_feeder() -> SomeDoes:
    """They get two thirds of what they would eat."""
    does = barn()
    for name in ("ann", "bet", "cleo"):
        does.doe(name, 60, 60, 2, **STANDARD)
        does.scored(name, 300, -20)
    does.given("pen", **{GRASS: 3000})
    does.fed_as_planned(-28, 0)
    return does


def test_a_feeder_is_decided_once_for_all_who_eat_there() -> None:
    does = three_at_an_empty_feeder()
    of_pen = does.acts("pen")
    assert [act["code"] for act in of_pen["offered"]] == ["fill_feeder"]
    act = of_pen["offered"][0]
    assert {each["doe"] for each in act["each"]} == {"ann", "bet", "cleo"}
    assert does.acts("ann")["offered"] == does.acts("bet")["offered"] == [act]
