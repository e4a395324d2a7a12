"""Words on feed and milk, each with a doe who must hear it and one who must not; and which words mean what."""

from __future__ import annotations

import re
from typing import Any

import pytest

from tests.support.known_does import carrying, fresh, in_two_meals, standard, stepped
from tests.support.one_doe import OneDoe, code
from tests.support.some_does import word
from tests.support.told_does import FARMS
from tests.support.words import catalogue


def on_a_bag(**label: Any) -> OneDoe:
    """Half of what she gets is pellets of the keeper's own entry."""
    doe = carrying(70, hay_g=1100)
    doe.log.add("feed", "bag", {"f": {"name": "Blue bag", **label}, "base": {}}, doe.on(30))
    stepped(doe, "doe", bag=[(40, 500)])
    doe.fed_as_planned(51, 70)
    return doe


def test_a_bag_nobody_described_is_asked_about_and_never_counts_as_nothing() -> None:
    unknown = on_a_bag().result(70)
    assert (code(unknown), unknown["prompt"]["args"]["what"]) == ("record_next", "feed_class")
    assert unknown["lines"]["me"]["st"] != "short"
    named = on_a_bag(**{"class": "legume", "like": "alfalfa_pellets_suncured"}).result(70)
    assert code(named) != "record_next"
    assert named["lines"]["me"]["st"] != "unknown"


def late_on_grass(kids: int, x100: int) -> OneDoe:
    """Day 118, short by the sums, the feeder clean, scored two days ago and a fortnight before."""
    doe = standard(kids)
    in_two_meals(doe, "pen", 60, grass_hay_general=1550)
    doe.fed_as_planned(80, 118)
    doe.scored(x100, 102, 116)
    return doe


def test_late_a_score_that_holds_closes_the_question_for_two_kids_and_not_for_three() -> None:
    for kids, says in ((2, False), (3, True)):
        said = late_on_grass(kids, 300).result(118)
        assert said["lines"]["me"]["st"] == "short"
        assert (code(said) == "energy_short") is says


def weekly_weighed(weighs: bool) -> OneDoe:
    """64 kg, two kilograms of milk to the day the herd's rule has her dry."""
    doe = standard(weight_g=64_000)
    doe.log.add("kidded", "doe", {"born": 2, "alive": 2}, doe.on(-200))
    in_two_meals(doe, "pen", 30, alfalfa_grass_hay_50=2600)
    doe.fed_as_planned(40, 90)
    for day in range(44, 90, 7) if weighs else ():
        for slot in ("morning", "evening"):
            doe.log.add("milk", "doe", {"g": 1000, "fat_x100": 0}, doe.on(day), slot)
    return doe


def test_milk_weighed_this_week_is_not_wound_down_by_the_calendar() -> None:
    day = 87
    for weighs, least in ((True, 1900), (False, 0)):
        doe = weekly_weighed(weighs)
        g = doe.farm(day).ask("milk_on", "doe", doe.on(day))
        assert g >= least
        assert (g < 1900) is not weighs


def test_fat_and_fresh_she_is_not_slimmed_and_fat_and_dry_she_is() -> None:
    for made, day, says in ((fresh(2), 152, False), (carrying(60), 60, True)):
        made.scored(425, day - 1)
        assert (code(made.result(day)) in ("condition_fat", "energy_over")) is says


def test_on_kidding_day_no_keeper_who_put_down_every_feeding_is_asked_for_days() -> None:
    assert code(fresh(0).result(150)) != "record_next"
    gaps = carrying(60)
    gaps.log.events = [event for event in gaps.log.events if event["kind"] != "fed"]
    assert code(gaps.result(60)) == "record_next"


def milker(grain_g: int, weighed: bool = True) -> OneDoe:
    """65 kg, three kilograms of milk weighed each week, never scored."""
    doe = standard(weight_g=65_000)
    doe.log.add("kidded", "doe", {"born": 2, "alive": 2}, doe.on(-60))
    in_two_meals(doe, "pen", -40, grass_hay_general=1200, alfalfa_hay_mid=1200)
    in_two_meals(doe, "doe", -40, barley_grain=grain_g)
    doe.fed_as_planned(-40, 20)
    for day in range(-40, 20, 7) if weighed else ():
        for slot in ("morning", "evening"):
            doe.log.add("milk", "doe", {"g": 1500, "fat_x100": 0}, doe.on(day), slot)
    return doe


@pytest.mark.parametrize(("grain_g", "short"), [(100, True), (1000, False)])
def test_a_milker_a_quarter_under_for_a_week_is_named_though_nobody_scores_her(grain_g: int, short: bool) -> None:
    said = milker(grain_g).result(10)
    assert (code(said) == "energy_short") is short, said["lines"]["me"]


def held_words() -> dict[str, str]:
    """English of what is said about feed and acts, where grain or feed is spoken of."""
    about = {key: text for key, text in catalogue("en").items() if key.startswith(("p.", "act.", "gate."))}
    return {key: text for key, text in about.items() if re.search(r"\b[Hh]old\b", text)}


def test_hold_is_said_of_milk_and_meat_that_may_not_be_used_and_never_of_grain() -> None:
    assert set(held_words()) <= {"p.kid_no_colostrum.do"}
    assert any("MILK HOLD" in text for key, text in catalogue("en").items() if key.startswith("hold."))


def test_close_to_kidding_a_gram_under_what_her_appetite_leaves_is_no_want_of_hay() -> None:
    """Day 149, hay to appetite beside 200 g of barley: she fills what her foretold appetite leaves to within a gram."""
    does = FARMS["60 kg, day 120, kids late, past due"]()
    does.fed_as_planned(-20, 15)
    assert {word(does.farm(day), "ada") for day in (13, 14, 15)}.isdisjoint({"forage_low"})
