"""What is done about a word fits the word: real compiler, fold, evaluation and search; each with a doe it is not."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.tables import PROMPTS
from tests.support.act_farm import BARLEY, GRASS, LEGUME, MIXED, barn
from tests.support.known_does import carrying
from tests.support.one_doe import OneDoe, code
from tests.support.some_does import SomeDoes, word
from tests.support.told_does import FIRST, dry, falls, held, milker, open_doe, stepped_plan


def given(does: SomeDoes) -> SomeDoes:
    does.fed_as_planned(-60, 0)
    return does


def ada(does: SomeDoes) -> dict[str, Any]:
    return dict(does.farm().ask("results")["does"]["ada"])


def heavy_milker(grain_g: int) -> SomeDoes:
    """70 kg, four kilograms of milk; so much barley in two meals."""
    return given(milker(70, 45, 4000, {LEGUME: 2400}, grain_g, {-20: 300, -2: 300}))


def test_grain_too_big_for_both_its_meals_is_given_at_a_third_and_none_of_it_is_taken() -> None:
    does = heavy_milker(1200)
    assert word(does.farm(), "ada") == "grain_meal_big"
    first = does.acts("ada")["offered"][0]
    assert first["code"] == "hold_split"
    assert {line["slot"]: line["steps"][0][1] for line in first["lines"]} == {
        "morning": 400,
        "midday": 400,
        "evening": 400,
    }
    assert word(heavy_milker(840).farm(), "ada") != "grain_meal_big"


def late_and_thin(hay: dict[str, int], grain: int = 0) -> SomeDoes:
    return given(dry(60, 110, 2, hay, grain, falls(250)))


def test_a_thin_late_doe_at_three_quarters_of_need_is_never_told_that_she_is_fed_for_it() -> None:
    """All the alfalfa she can eat reaches the floor of her need, and she is foretold to come to kidding at 1.2."""
    does = late_and_thin({LEGUME: 2300})
    result = ada(does)
    assert result["lines"]["me"]["pm"] < 800
    assert result["prompt"]["code"] == "condition_thin_late"
    found = does.acts("ada")
    assert (found["by_plan"], result["awaited"]) == ("", None)
    brings = found["offered"][0]["brings"]
    assert brings["to_pm"] - brings["from_pm"] > 50


def test_nor_does_her_word_come_and_go_from_day_to_day() -> None:
    does = dry(60, 110, 2, {LEGUME: 2300}, 0, falls(250))
    does.fed_as_planned(-60, 12)
    assert {word(does.farm(day), "ada") for day in (0, 3, 5, 6, 9, 12)} == {"condition_thin_late"}


def test_a_thin_late_doe_whose_feed_was_raised_since_waits_for_her_next_score() -> None:
    raised = barn()
    raised.doe("ada", 60, 104, 2, size="standard", breed="grade", born_on="2021-03-01", kiddings_before=3)
    for slot in ("morning", "evening"):
        raised.plan("pen", slot, GRASS, (-60, 850), (-6, 0))
        raised.plan("pen", slot, MIXED, (-60, 0), (-6, 1200))
    raised.scored("ada", 250, -40, -8)
    assert ada(given(raised))["awaited"]["way"] == "up"


def young(hay: dict[str, int]) -> SomeDoes:
    """A miniature first freshener, 20 kg of 30, day 106 with two."""
    return given(dry(20, 106, 2, hay, 0, held(300), **FIRST, mature_kg=30))


def test_phosphorus_far_short_asks_for_a_hay_test_and_of_a_doe_who_gets_enough_for_nothing() -> None:
    said = ada(young({GRASS: 700, LEGUME: 150}))["prompt"]
    assert (said["code"], said["args"]["ask"]) == ("phosphorus_short", "hay")
    assert code(ada(young({MIXED: 800, GRASS: 100}))) != "phosphorus_short"
    # dry and carrying she misses none of it yet
    assert code(ada(given(dry(60, 60, 1, {"prairie_hay": 2300}, 0, held(300))))) != "phosphorus_short"


def test_two_ways_to_one_and_the_same_plan_are_offered_once() -> None:
    does = given(dry(45, 100, 2, {LEGUME: 1500}, 0, held(300)))
    assert word(does.farm(), "ada").startswith("calcium_heading_over")
    offered = [act["lines"] for act in does.acts("ada")["offered"]]
    assert offered
    assert all(lines not in offered[:n] for n, lines in enumerate(offered))


def test_who_is_over_hears_how_little_hay_is_too_little() -> None:
    """15 g of dry forage for each kilogram of 60 are 900 g; as fed about a kilogram."""
    said = ada(given(open_doe(60, {GRASS: 1700}, 400, {-1: 425})))["prompt"]
    assert said["code"] == "energy_over"
    assert 900 < said["args"]["least_g"] <= 1100
    assert "least_g" not in (ada(late_and_thin({GRASS: 1500}))["prompt"]["args"])


@pytest.mark.parametrize(("jumped", "left"), [(True, True), (True, False), (False, True)])
def test_who_ate_a_jump_keeps_its_looks_whatever_is_said_first(jumped: bool, left: bool) -> None:
    doe = carrying(130)
    if jumped:
        doe.log.add("got_into", "doe", {"feed": BARLEY, "g": 300}, doe.on(130), "morning")
    if left:
        doe.log.intake("doe", doe.on(130), "evening", "refused", 0)
    result = doe.result(130)
    beside = result["ate_grain"]
    assert (beside is not None) is jumped
    if jumped:
        assert (beside["code"], beside["args"]["recheck_ms"] > 0) == ("grain_jump_back", True)
    first = code(result)
    assert (first == "grain_jump_back") is (not left)
    assert not left or PROMPTS["prompts"][first]["rank"] < PROMPTS["prompts"]["grain_jump_back"]["rank"]


def steps(grain_g: int) -> set[str]:
    """Close-up, the rules at a hundred grams by then."""
    doe: OneDoe = carrying(128)
    for slot in ("morning", "evening"):
        doe.plan("doe", slot, BARLEY, (100, grain_g // 2))
    doe.fed_as_planned(100, 128)
    return {code(doe.result(day)) for day in (122, 124, 126)}


def test_a_few_grams_are_no_step() -> None:
    assert "steps_ahead" not in steps(98)
    assert "steps_ahead" in steps(40)


def cut_by_half(day: int) -> SomeDoes:
    """Day 126 with two; her hay was halved so many days ago."""
    does = stepped_plan(dry(60, 126, 2, {LEGUME: 500}, 0, held(300)), "pen", GRASS, (-60, 1800), (-day, 900))
    return given(does)


def test_who_is_to_be_given_back_her_feed_is_offered_just_that_first() -> None:
    does = cut_by_half(1)
    prompt = ada(does)["prompt"]
    assert (prompt["code"], prompt["args"]["cause"]) == ("net_cut_late", "since")
    first = does.acts("ada")["offered"][0]
    assert first["code"] == "give_back"
    assert {(line["feed"], line["from_g"], line["steps"][0][1]) for line in first["lines"]} == {(GRASS, 450, 900)}
    # short for another reason she gets more of what helps
    short = given(dry(60, 126, 2, {GRASS: 1300}, 0, falls()))
    assert word(short.farm(), "ada") == "energy_short"
    assert all(act["code"] != "give_back" for act in short.acts("ada")["offered"])


def test_what_her_plan_answers_is_told_from_what_her_need_does() -> None:
    """Twice the hay since yesterday; and a milker in her last weeks whose need falls with her milk."""
    planned = barn()
    planned.doe("ada", 60, 60, 2, size="standard", breed="grade", born_on="2021-03-01", kiddings_before=3)
    for slot in ("morning", "evening"):
        planned.plan("pen", slot, GRASS, (-60, 500), (-1, 1000))
    planned.scored("ada", 300, -30)
    planned.scored("ada", 250, -1)
    found = given(planned).acts("ada")
    assert (bool(found["by_plan"]), found["by_need"]) == (True, False), found
    falls_off = milker(62, 237, 1500, {GRASS: 2000}, 300, gest=82, weighs=False)
    falls_off.fed_as_planned(-60, 0)
    found = falls_off.acts("ada")
    assert (bool(found["by_plan"]), found["by_need"]) == (True, True), found
