"""Steps offered at Save: they pass themselves, go as far as they do, and what would carry them on is named."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay
from tests.outlook.test_gates import ALFALFA, BARLEY, GRASS, MEALS, codes, doe_on_grass, gate
from tests.support.one_doe import OneDoe
from tests.support.some_does import STANDARD as ONE_KIND
from tests.support.some_does import SomeDoes

VETS_RULE = {"calcium_before_kidding": 2}


def doe_with_legume(day: int, legume_g: int) -> OneDoe:
    doe = doe_on_grass(day)
    for slot in MEALS:
        doe.plan("pen", slot, ALFALFA, (day - 12, legume_g))
    doe.fed_as_planned(day - 12, day - 1)
    return doe


def taken(doe: OneDoe, day: int, feed: str, slots: tuple[str, ...], safe: list[Any], to: str = "doe") -> Any:
    """What is said of the steps once they are put in."""
    day_of = {doe.on(on): on for on in range(day, day + 120)}
    return gate(doe, day, feed, slots, *((day_of[on], g) for on, g in safe), to=to)


@pytest.mark.parametrize("day", [118, 125, 132])
@pytest.mark.parametrize("legume_g", [100, 200, 300, 400])
def test_steps_offered_near_kidding_pass_every_gate_themselves(day: int, legume_g: int) -> None:
    """Grain thins her calcium however slowly it comes: the steps go as far as it holds, and the rest is named."""
    doe = doe_with_legume(day, legume_g)
    found = gate(doe, day, BARLEY, ("morning",), (day + 1, 500))
    assert "calcium_fall" in codes(found)
    assert [one["code"] for one in found["left"]] == ["calcium_fall"]
    if found["safe"]:
        assert found["safe"][-1][1] < 450
        assert taken(doe, day, BARLEY, ("morning",), found["safe"])["findings"] == []


def test_steps_that_stop_short_go_as_far_as_they_pass() -> None:
    doe = doe_with_legume(118, 400)
    found = gate(doe, 118, BARLEY, ("morning",), (119, 500))
    on, g = found["safe"][-1]
    assert (len(found["safe"]) > 1, g) == (True, 200)
    further = [*found["safe"], (shift(on, 3), g + 25)]
    assert codes(taken(doe, 118, BARLEY, ("morning",), further)) == ["calcium_fall"]


@pytest.mark.parametrize("day", [118, 125, 132, 138])
def test_too_much_calcium_is_no_less_for_coming_slowly(day: int) -> None:
    doe = doe_on_grass(day)
    found = gate(doe, day, ALFALFA, MEALS, (day + 1, 1500), to="pen")
    assert {"hay_switch", "calcium_rise"} <= {*codes(found)}
    assert 0 < found["safe"][-1][1] < 1500
    assert [one["code"] for one in found["left"]] == ["calcium_rise"]
    assert taken(doe, day, ALFALFA, MEALS, found["safe"], to="pen")["findings"] == []


def test_no_steps_are_offered_that_end_at_nothing_late() -> None:
    """Her grass taken out where other hay lies beside it: slower is no cure, and the cut is named."""
    for legume_g in (0, 400):
        doe = doe_with_legume(132, legume_g)
        found = gate(doe, 132, GRASS, MEALS, (133, 0), to="pen")
        assert "late_cut" in codes(found)
        assert found["safe"] == []
        assert "late_cut" in [one["code"] for one in found["left"]]


def three_at_a_feeder(*then: tuple[int, int]) -> SomeDoes:
    does = SomeDoes()
    for name, kg, kids in (("ada", 70, 1), ("bea", 50, 3), ("cleo", 60, 2)):
        does.doe(name, kg, 130, kids, "north", **ONE_KIND)
    does.given("north", grass_hay_general=4500)
    for slot in MEALS:
        does.plan("north", slot, ALFALFA, (-20, 750), *then)
    does.fed_as_planned(-20, 0)
    return does


def test_of_several_the_worst_is_first_with_her_own_figure() -> None:
    farm, then = three_at_a_feeder().farm(), three_at_a_feeder((1, 0)).farm()
    change = {"subject": "north", "feed": ALFALFA, "slots": [*MEALS], "steps": [[shift(farm.day, 1), 0]]}
    found = next(one for one in farm.ask("gate", change)["findings"] if one["code"] == "calcium_fall")
    sums = {name: then.ask("day_sums", name, found["on"], True) for name in ("ada", "bea", "cleo")}
    share = {name: one["got"]["ca"] * 1000 // one["need"]["ca"] for name, one in sums.items()}
    assert sorted(found["does"]) == ["ada", "bea", "cleo"]
    assert found["does"][0] == min(share, key=lambda name: share[name]) != "ada"
    assert abs(found["args"]["then_pm"] - min(share.values())) <= 1


def test_less_of_everything_is_never_said_to_be_a_rise_of_calcium() -> None:
    farm = three_at_a_feeder().farm()
    steps = [[shift(farm.day, 1), 1000]]
    change = {"subject": "north", "feed": "grass_hay_general", "slots": [*MEALS], "steps": steps}
    said = {one["code"]: one["args"] for one in farm.ask("gate", change)["findings"]}
    assert "late_cut" in said
    assert "calcium_rise" not in said


def test_what_legume_beside_it_would_do_is_named_with_an_amount_and_does_it() -> None:
    """Both put in, the legume first: nothing is asked any more."""
    doe = doe_with_legume(125, 300)
    found = gate(doe, 125, BARLEY, ("morning",), (126, 300))
    beside = found["beside"]
    assert (beside["feed"], beside["safe"][-1][1]) == (ALFALFA, 300)
    legume = [(126, beside["g"])]
    assert gate(doe, 125, ALFALFA, ("morning",), *legume)["findings"] == []
    doe.plan("doe", "morning", ALFALFA, (124, 0), *legume)
    assert taken(doe, 125, BARLEY, ("morning",), beside["safe"])["findings"] == []
    last = beside["safe"][-1][0]
    doe.plan("doe", "morning", BARLEY, (124, 0), (126, 300))
    sums = doe.farm(125).ask("day_sums", "doe", last, True)
    assert sums["got"]["me"] * 1000 <= sums["need"]["me"] * (1000 + doe.farm(125).rules["level_pm"])


def test_nothing_is_named_beside_where_there_is_no_legume_or_none_is_missing() -> None:
    assert gate(doe_on_grass(60), 60, BARLEY, MEALS, (60, 300))["beside"] is None
    assert gate(doe_on_grass(132), 132, GRASS, MEALS, (133, 0), to="pen")["beside"] is None


def test_reasons_to_go_on_fit_her_state() -> None:
    """A dry doe has no milk that goes down; a vet, an adviser or the herd rules may stand behind any."""
    dry = doe_with_legume(125, 300)
    asked = gate(dry, 125, BARLEY, ("morning",), (126, 500))
    said = dry.farm(125).ask("reasons", asked["findings"])
    assert {"vet", "rules"} <= {*said}
    assert "dried" not in said
    milked = doe_on_grass(200)
    milked.log.add("kidded", "doe", {"born": 2, "alive": 2}, milked.on(150))
    asked = gate(milked, 200, BARLEY, ("morning",), (201, 500))
    assert asked["findings"]
    assert "dried" in milked.farm(200).ask("reasons", asked["findings"])


@pytest.mark.parametrize("slots", [("morning",), MEALS])
@pytest.mark.parametrize("legume_g", [0, 100, 200, 300, 400])
def test_the_herd_rules_own_steps_pass_or_are_not_offered(legume_g: int, slots: tuple[str, ...]) -> None:
    doe = doe_with_legume(118, legume_g)
    farm = doe.farm(118)
    if held_back := legume_g == 0:
        farm = FarmDay(farm.view, farm.outlooks, {**farm.book, "rules": {**farm.rules, **VETS_RULE}}, farm.day)
    change = {"subject": "doe", "feed": BARLEY, "slots": [*slots]}
    found = farm.ask("rule_steps", change)
    ahead = [step for step in farm.outlooks["doe"]["steps"] if step["on"] > farm.day]
    assert len(ahead) > 1
    whole = farm.ask("gate", {**change, "steps": [[one["on"], one["g"] // len(slots)] for one in ahead]})["findings"]
    assert bool(whole) != held_back
    if not whole:
        assert [g for _, g in found["safe"]] == [one["g"] // len(slots) for one in ahead]
    if found["safe"]:
        assert farm.ask("gate", {**change, "steps": found["safe"]})["findings"] == []
