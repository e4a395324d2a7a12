"""Acts for many plausible does: none breaks a limit, and she who follows the first hears the prompt no more."""

from __future__ import annotations

from random import Random
from typing import Any

import pytest

from tests.support.act_checker import broken
from tests.support.some_does import MINIATURE, STANDARD, SomeDoes

SEEDS = range(1, 25)
BACK_D, SLOW_D, LOOKS = 7, 14, (7, 9, 11, 14, 18, 23, 28)
UP = {"energy_short", "energy_heading_short"}
DOWN = {"energy_over", "energy_heading_over"}
ANSWERS = {**dict.fromkeys(UP, UP), **dict.fromkeys(DOWN, DOWN), "condition_thin": UP, "condition_fat": DOWN}
HAYS = ("prairie_hay", "grass_hay_general", "orchardgrass_hay", "alfalfa_grass_hay_50", "alfalfa_hay_mid")


def some_doe(seed: int) -> SomeDoes:
    """Alone at her feeder on some hay and perhaps grain, with alfalfa by the flake and barley by the scoop on hand."""
    chance = Random(seed)
    does, mini = SomeDoes(), chance.random() < 0.5
    kg = chance.randint(26, 40) if mini else chance.randint(50, 80)
    does.doe(
        "fern", kg, chance.choice([30, 50, 70, 90, 105, 118]), chance.randint(1, 3), **(MINIATURE if mini else STANDARD)
    )
    hay, g = chance.choice(HAYS), round(kg * chance.uniform(18, 45) / 100) * 100
    does.given("pen", **{hay: g})
    if chance.random() < 0.5:
        does.given("fern", barley_grain=2 * chance.choice([50, 100, 150]))
    does.scored("fern", chance.choice([225, 275, 300, 325, 400]), -4)
    does.lot("lucerne", "alfalfa_hay_mid", 600 if mini else 1500)
    does.scoop("tin", "barley_grain", 160)
    does.fed_as_planned(-20, 0)
    return does


def acts_of(seed: int) -> tuple[SomeDoes, dict[str, Any]]:
    does = some_doe(seed)
    return does, does.acts("fern")


@pytest.mark.parametrize("seed", SEEDS)
def test_no_act_breaks_a_limit(seed: int) -> None:
    does, found = acts_of(seed)
    farm = does.farm()
    for act in found["offered"]:
        assert broken(farm.view, farm.book["feeds"], farm.outlooks["fern"], "fern", act) == [], act["code"]


@pytest.mark.parametrize("seed", SEEDS)
def test_whoever_follows_the_first_act_hears_the_prompt_no_more(seed: int) -> None:
    does, found = acts_of(seed)
    if found["for"] not in ANSWERS or not found["offered"]:
        return
    act = found["offered"][0]
    does.adopt(act)
    does.fed_as_planned(1, LOOKS[-1])
    back = SLOW_D if act["slow"] else BACK_D
    said = {day: words(does, day) & ANSWERS[found["for"]] for day in LOOKS if day >= back}
    assert said
    assert not any(said.values()), (act["code"], said)


def words(does: SomeDoes, day: int) -> set[str]:
    prompt = does.farm(day).ask("results")["does"]["fern"]["prompt"]
    return {prompt["code"]} if prompt else set()


def test_most_who_hear_a_feed_prompt_are_offered_something() -> None:
    found = [acts_of(seed)[1] for seed in SEEDS]
    asked = [each for each in found if each["for"] in ANSWERS]
    answered = [each for each in asked if each["offered"] or each["by_plan"]]
    assert len(asked) > 8
    assert len(answered) * 2 > len(asked)
