"""Acts that give more: what is cut already, a mix as it is fed, part of the way, and a score that says nothing new."""

from __future__ import annotations

from tests.support.act_farm import BARLEY, GRASS, POOR, barn, thin_with_three
from tests.support.some_does import MEALS, MINIATURE, STANDARD, SomeDoes, word


def cut_two_days_ago() -> SomeDoes:
    """Day 120, and half of her hay went two days ago."""
    does = barn()
    does.doe("larch", 60, 120, 2, **STANDARD)
    for slot in MEALS:
        does.plan("pen", slot, GRASS, (-60, 1000), (-2, 500))
    does.scored("larch", 300, -3)
    does.fed_as_planned(-28, 0)
    return does


def test_what_is_cut_already_is_given_back() -> None:
    does = cut_two_days_ago()
    assert word(does.farm(), "larch") == "net_cut_late"
    act = does.acts("larch")["offered"][0]
    assert act["brings"]["to_pm"] > act["brings"]["from_pm"]
    assert all(step[1] > line["from_g"] for line in act["lines"] for step in line["steps"])


def on_two_hays() -> SomeDoes:
    """Mid, at a feeder of two hays that is empty long before the next meal."""
    does = barn()
    does.doe("fern", 60, 60, 2, **STANDARD)
    does.given("pen", **{GRASS: 800, POOR: 400})
    does.scored("fern", 300, -20)
    does.fed_as_planned(-28, 0)
    return does


def test_a_feeder_is_filled_with_the_hays_it_holds() -> None:
    act = on_two_hays().acts("fern")["offered"][0]
    assert act["code"] == "fill_feeder"
    assert {line["feed"] for line in act["lines"]} == {GRASS, POOR}
    # the mix stays, so that nothing has to come in steps
    assert all(len(line["steps"]) == 1 for line in act["lines"])


def test_what_goes_part_of_the_way_is_no_act_but_is_named() -> None:
    # her hay ends before she does, and a full feeder does not bring her to need
    found = thin_with_three(128, 800).acts("fern")
    assert found["offered"] == []
    helps = found["none"]["helps"]
    assert helps["code"] == "fill_feeder"
    assert helps["brings"]["from_pm"] + 50 < helps["brings"]["to_pm"] < 920


def thin(grain_g: int) -> SomeDoes:
    """Scored under her band, on all the hay she can eat and so much barley."""
    does = barn()
    does.doe("dock", 60, 50, 2, **STANDARD)
    does.given("pen", **{GRASS: 2000})
    if grain_g:
        does.given("dock", **{BARLEY: grain_g})
    does.scored("dock", 225, -10)
    does.fed_as_planned(-12, 0)
    return does


def test_a_low_score_rests_while_she_is_fed_for_it() -> None:
    assert word(thin(300).farm(), "dock") not in ("condition_thin", "energy_short", "condition_ahead_low")
    assert word(thin(0).farm(), "dock") in ("condition_thin", "energy_short")


def test_it_is_said_again_where_she_fell_though_fed() -> None:
    does = barn()
    does.doe("dock", 60, 50, 2, **STANDARD)
    does.given("pen", **{GRASS: 2000})
    does.given("dock", **{BARLEY: 300})
    does.scored("dock", 275, -24)
    does.scored("dock", 225, -2)
    does.fed_as_planned(-45, 0)
    assert word(does.farm(), "dock") in ("condition_thin", "energy_short", "thin_though_fed")


def test_a_small_doe_is_not_filled_by_a_flake_she_has_no_use_for() -> None:
    does = barn()
    does.doe("nettle", 30, 70, 2, **MINIATURE)
    does.given("pen", **{GRASS: 600})
    does.scored("nettle", 300, -10)
    does.fed_as_planned(-28, 0)
    act = does.acts("nettle")["offered"][0]
    assert act["code"] == "fill_feeder"
    assert act["brings"]["to_pm"] <= 1000
