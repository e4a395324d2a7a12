"""A farm that only taps its meals: what she was given last is her plan, and an act writes the whole of it."""

from __future__ import annotations

from tests.support.act_checker import broken
from tests.support.act_farm import BARLEY, GRASS, LEGUME, barn
from tests.support.some_does import STANDARD, SomeDoes, word

SHORT = ("energy_short", "energy_heading_short")


def tapped() -> SomeDoes:
    """Day 110 with three kids on too little hay and some grain, every meal confirmed and none planned."""
    does = barn()
    does.doe("fern", 60, 110, 3, **STANDARD)
    for day in range(-20, 1):
        for slot in ("morning", "evening"):
            does.log.fed("pen", does.on(day), slot, ("", GRASS, 550), ("fern", BARLEY, 40))
    does.scored("fern", 300, -4)
    return does


def written() -> SomeDoes:
    """The same meals, as a plan: what a change is measured from."""
    does = tapped()
    does.given("pen", **{GRASS: 1100})
    does.given("fern", **{BARLEY: 80})
    return does


def test_she_who_has_no_plan_is_offered_an_act_that_keeps_the_limits() -> None:
    does = tapped()
    assert word(does.farm(), "fern") in SHORT
    farm, offered = written().farm(), does.acts("fern")["offered"]
    assert offered
    for act in offered:
        assert broken(farm.view, farm.book["feeds"], farm.outlooks["fern"], "fern", act) == [], act["code"]


def test_an_act_writes_what_stays_as_it_is_too() -> None:
    act = tapped().acts("fern")["offered"][0]
    written = {(line["subject"], line["slot"], line["feed"]): line for line in act["lines"]}
    for slot in ("morning", "evening"):
        assert written["pen", slot, GRASS]["from_g"] == 550
        assert written["fern", slot, BARLEY]["from_g"] == 40
    assert {line["steps"][0][0] for line in act["lines"]} == {tapped().on(1)}


def test_once_adopted_and_fed_she_hears_it_no_more() -> None:
    does = tapped()
    does.adopt(does.acts("fern")["offered"][0])
    does.fed_as_planned(1, 14)
    assert word(does.farm(14), "fern") not in SHORT


def test_what_goes_part_of_the_way_writes_the_whole_too() -> None:
    does = SomeDoes()
    does.doe("fern", 60, 128, 3, **STANDARD)
    for day in range(-28, 1):
        for slot in ("morning", "evening"):
            does.log.fed("pen", does.on(day), slot, ("", "grass_hay_general", 400), ("fern", LEGUME, 20))
    does.scored("fern", 275, -40)
    does.scored("fern", 200, -2)
    found = does.acts("fern")
    assert found["offered"] == []
    written = {(line["subject"], line["slot"], line["feed"]) for line in found["none"]["helps"]["lines"]}
    kept = {("pen", "grass_hay_general"), ("fern", LEGUME)}
    assert written >= {(subject, slot, feed) for subject, feed in kept for slot in ("morning", "evening")}
