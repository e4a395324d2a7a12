"""Acts that give less: found between too little and too much, followed in peace, and until when they were tried."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from herd.outlook.evaluate import FarmDay
from tests.simulation.acts import ASKED, asked
from tests.simulation.barn import live_day
from tests.simulation.days import WARM_UP_D, on
from tests.simulation.keeper import Keeper
from tests.simulation.phone import Phone
from tests.simulation.sample import farm as sampled
from tests.support.act_farm import FIRST, GRASS, LEGUME, barn, farm_of
from tests.support.some_does import MINIATURE, SomeDoes, days_from_today
from tests.support.told_does import dry, falls


def simulated(seed: int, number: int) -> FarmDay:
    keeper, phone = Keeper(sampled(seed, number)), Phone()
    for day in range(-WARM_UP_D, ASKED + 1):
        live_day(keeper, day)
    phone.look(keeper.log.events, ASKED, on(ASKED))
    assert phone.farm is not None
    return phone.farm


def codes(found: dict[str, Any]) -> list[str]:
    return [act["code"] for act in found["offered"]]


def test_what_lies_between_too_little_and_too_much_is_found() -> None:
    # of her hay 300 g at a meal leave her short and 350 g leave her over by the scale's coarser step
    assert "hay_down" in codes(simulated(4, 5).ask("acts", "doe2"))


def test_that_a_fat_doe_is_to_be_scored_again_stands_in_no_acts_way() -> None:
    assert codes(simulated(3, 15).ask("acts", "doe4"))


def test_where_her_score_speaks_on_her_feed_is_eased_all_the_same() -> None:
    # 4.25 and over on grain two weeks before the late day: none of it takes a quarter score off her by then
    found = simulated(7, 12).ask("acts", "doe3")
    assert found["for"] == "energy_over"
    assert codes(found)
    assert found["offered"][0]["brings"]["to_pm"] < found["offered"][0]["brings"]["from_pm"]


def test_what_one_leaves_in_the_feeder_brings_no_mate_farther_past_a_limit() -> None:
    # two penmates already get more grain beside their hay than they may
    keeper, phone = Keeper(sampled(17, 3)), Phone()
    for day in range(-WARM_UP_D, ASKED + 1):
        live_day(keeper, day)
    said = phone.look(keeper.log.events, ASKED, on(ASKED))
    [hers] = [case for case in asked(keeper, phone, said, ASKED) if case.doe == "doe2"]
    assert hers.code == "calcium_short"
    assert hers.broke == []


def test_what_takes_feed_away_brings_what_can_be_seen() -> None:
    # at 4 two days before the late day, from when another word is said of her whatever she gets
    does = dry(50, 88, 2, {GRASS: 1400}, 250, {-30: 375, -3: 400})
    does.fed_as_planned(-60, 0)
    for act in does.acts("ada", 0)["offered"]:
        assert act["brings"]["from_pm"] - act["brings"]["to_pm"] >= 25


def test_what_is_too_much_is_off_by_her_need_and_not_by_what_she_can_eat_to() -> None:
    # first freshener on day 93, 13 % over: against the floor of her last weeks it would be 50 %
    found = simulated(9, 9).ask("acts", "doe2")
    assert found["for"] == "condition_fat"
    assert 100 < found["none"]["pm"] < 200


def test_where_no_easing_does_it_the_grain_that_goes_most_of_the_way_is_shown() -> None:
    # 124 % of need at a feeder that her late mates need as it is
    found = simulated(11, 30).ask("acts", "doe1")
    assert not found["offered"]
    helps = found["none"]["helps"]
    assert helps["code"] == "grain_down"
    assert {line["subject"] for line in helps["lines"]} == {"doe1"}
    assert 950 <= helps["brings"]["to_pm"] < helps["brings"]["from_pm"] - 100


def test_back_in_her_band_she_is_eased_though_the_word_stands_a_week_longer() -> None:
    found = simulated(11, 29).ask("acts", "doe4")
    assert codes(found)[:1] == ["legume_down"]
    assert found["offered"][0]["brings"]["to_pm"] < 1080
    assert found["offered"][0]["slow"]


def test_a_fat_doe_gets_her_calcium_in_the_place_of_other_hay() -> None:
    found = simulated(8, 24).ask("acts", "doe1")
    assert found["for"] == "calcium_short"
    (act,) = found["offered"][:1]
    ends = {line["feed"]: line["steps"][-1][1] - line["from_g"] for line in act["lines"]}
    assert min(ends.values()) < 0 < max(ends.values())


def test_of_hay_given_beyond_her_appetite_only_what_she_eats_is_changed() -> None:
    # late she leaves a part of it: more of it may become another at once than its weight says
    does = dry(60, 110, 2, {"prairie_hay": 2600, LEGUME: 50}, 0, falls(250))
    does.fed_as_planned(-60, 0)
    act = does.acts("ada")["offered"][0]
    assert {line["feed"] for line in act["lines"]} > {"prairie_hay"}
    assert act["brings"]["to_pm"] > 800


def test_no_act_ends_by_bringing_her_as_much_as_before() -> None:
    for found in (simulated(9, 32).ask("acts", name) for name in ("doe0", "doe1", "doe2")):
        for act in found["offered"]:
            assert act["brings"]["to_pm"] != act["brings"]["from_pm"], act["code"]


def test_grain_comes_down_with_hay_for_part_of_it_where_she_would_have_too_little_hay() -> None:
    found = simulated(4, 29).ask("acts", "doe5")
    assert "hay_for_grain" in codes(found)
    lines = found["offered"][codes(found).index("hay_for_grain")]["lines"]
    more = {line["feed"] for line in lines if line["steps"][-1][1] > line["from_g"]}
    less = {line["feed"] for line in lines if line["steps"][-1][1] < line["from_g"]}
    assert more
    assert less
    assert not more & less


def on_a_mix() -> SomeDoes:
    """A small doe, heavy on meadow hay and alfalfa in equal parts."""
    does = barn()
    does.doe("fern", 29, 40, 2, **MINIATURE)
    does.given("pen", **{GRASS: 500, LEGUME: 500})
    does.scored("fern", 350, -4)
    does.fed_as_planned(-28, 0)
    return does


def test_of_a_mix_all_of_it_comes_down_in_its_measure() -> None:
    found = on_a_mix().acts("fern")
    (act,) = [act for act in found["offered"] if act["code"] == "hay_down"]
    left = dict.fromkeys((GRASS, LEGUME), 0)
    for line in act["lines"]:
        left[line["feed"]] += line["steps"][-1][1]
    assert 0 < left[GRASS] < 500
    assert abs(left[GRASS] - left[LEGUME]) <= 100


DOWN = {"energy_over", "energy_heading_over", "condition_fat", "energy_heading_short", "energy_short"}


def said(does: SomeDoes, name: str, days: range) -> Iterator[set[str]]:
    for day in days:
        prompt = does.farm(day).ask("results")["does"][name]["prompt"]
        yield {prompt["code"]} if prompt else set()


@pytest.mark.parametrize("name", ["elder", "flax"])
def test_the_word_of_an_act_that_is_followed_rests(name: str) -> None:
    does = farm_of(name)
    does.adopt(does.acts(name)["offered"][0])
    does.fed_as_planned(0, 20)
    for words in said(does, name, range(21)):
        assert not words & DOWN


def test_it_does_not_rest_where_she_is_fed_as_before() -> None:
    does = farm_of("elder")
    act = does.acts("elder")["offered"][0]
    before = farm_of("elder")
    before.fed_as_planned(0, 12)
    does.adopt(act)
    kinds = ("fed",)
    does.log.events += [e for e in before.log.events if e["kind"] in kinds and days_from_today(e["on"]) >= 0]
    assert list(said(does, "elder", range(6, 12))) == [{"energy_over"}] * 6


def test_a_word_that_is_not_the_acts_own_is_heard_beside_it() -> None:
    does = farm_of("mallow")
    does.adopt(does.acts("mallow")["offered"][0])
    does.fed_as_planned(0, 6)
    does.scored("mallow", 225, 5)
    heard = set[str]().union(*said(does, "mallow", range(5, 7)))
    assert heard & {"condition_thin_late", "energy_short", "condition_ahead_low"}


@pytest.mark.parametrize("name", FIRST)
def test_every_act_says_until_when_it_was_tried(name: str) -> None:
    does = farm_of(name)
    due = does.outlooks(0)[name]["due"]["mid"]
    for act in does.acts(name)["offered"]:
        last = max(date for line in act["lines"] for date, _ in line["steps"])
        assert last < act["ends_on"]
        assert act["ends_on"] <= max(due, last) or days_from_today(act["ends_on"]) <= 29
        assert days_from_today(act["ends_on"]) <= max(29, days_from_today(last) + 1)
