"""No act is one the farm would be asked about when it sets the same by hand."""

from __future__ import annotations

from collections import defaultdict
from itertools import pairwise
from random import Random
from typing import Any

import pytest

from tests.support.act_farm import BARLEY, GRASS, LEGUME, MIXED, POOR, barn
from tests.support.some_does import MINIATURE, STANDARD, SomeDoes, days_from_today

SEEDS = range(1, 41)
# A quarter to a third at a time.
AT_ONCE = 0.35


def some_doe(seed: int) -> SomeDoes:
    """On little hay and some grain, with alfalfa in heavy flakes on hand."""
    chance = Random(seed)
    does, mini = barn(), chance.random() < 0.5
    kg = chance.randint(26, 40) if mini else chance.randint(50, 80)
    breed = MINIATURE if mini else STANDARD
    does.doe("fern", kg, chance.choice([40, 70, 100, 118]), chance.randint(1, 3), **breed)
    does.scored("fern", chance.choice([225, 275, 300]), -4)
    g = round(kg * chance.uniform(8, 24) / 100) * 100
    does.given("pen", **{chance.choice([GRASS, POOR]): g})
    if chance.random() < 0.5:
        does.given("pen", **{LEGUME: g // 5})
    does.given("fern", **{BARLEY: 2 * chance.choice([0, 100, 150, 200])})
    does.fed_as_planned(-20, 0)
    return does


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_offered_is_no_sudden_change_of_hay(seed: int) -> None:
    does = some_doe(seed)
    for act in does.acts("fern")["offered"]:
        assert most_at_once(does, act) <= AT_ONCE, act


@pytest.mark.parametrize("seed", SEEDS)
def test_whoever_set_it_by_hand_would_be_asked_nothing(seed: int) -> None:
    does = some_doe(seed)
    for act in does.acts("fern")["offered"]:
        assert does.farm().ask("warned", act["lines"]) == [], act


LATE_SEEDS = (*range(1, 13), 44)


def late_doe(seed: int) -> SomeDoes:
    """From the day her need climbs to a week before kidding, on any of four hays, thin to fat."""
    chance = Random(seed)
    does, mini = barn(), chance.random() < 0.5
    kg = chance.randint(26, 40) if mini else chance.randint(50, 80)
    gest = chance.choice([95, 110, 125, 132, 138])
    does.doe("fern", kg, gest, chance.randint(1, 3), **(MINIATURE if mini else STANDARD))
    does.scored("fern", chance.choice([225, 275, 300, 375, 400]), -4)
    g = round(kg * chance.uniform(12, 40) / 100) * 100
    does.given("pen", **{chance.choice([GRASS, MIXED, LEGUME, POOR]): g})
    if chance.random() < 0.5:
        does.given("pen", **{LEGUME: g // 4})
    does.given("fern", **{BARLEY: 2 * chance.choice([0, 100, 150, 200])})
    does.fed_as_planned(-20, 0)
    return does


@pytest.mark.parametrize("seed", LATE_SEEDS)
def test_nor_is_a_late_does_act_asked_about(seed: int) -> None:
    does = late_doe(seed)
    for act in does.acts("fern")["offered"]:
        assert does.farm().ask("warned", act["lines"]) == [], act


def test_calcium_to_spare_is_not_asked_about_where_she_is_late_and_short() -> None:
    """Thin or short late goes before calcium to spare, so that what helps her is still offered."""
    found = late_doe(44).acts("fern")
    assert found["for"] == "energy_short"
    assert found["offered"][0]["code"] == "fill_feeder"


def test_the_gate_that_acts_are_held_against_is_the_one_of_the_form() -> None:
    """One place of the plan by itself is judged alike, whichever way it is asked."""
    does = some_doe(3)
    steps = [[does.on(1), 900]]
    line = {"subject": "fern", "to": "doe", "slot": "morning", "feed": BARLEY, "from_g": 0, "steps": steps}
    change = {"subject": "fern", "feed": BARLEY, "slots": ["morning"], "steps": steps}
    found = does.farm().ask("warned", [line])
    assert {one["code"] for one in found} >= {"grain_jump", "grain_meal"}
    assert found == does.farm().ask("gate", change)["findings"]


def most_at_once(does: SomeDoes, act: dict[str, Any]) -> float:
    """Share of one hay in all that is put before her, at its greatest leap from one day to the next."""
    plan = dict(does.planned)
    for line in act["lines"]:
        place = (line["subject"], line["slot"], line["feed"])
        steps = [(days_from_today(on), g) for on, g in line["steps"]]
        plan[place] = [step for step in plan.get(place, []) if step[0] < steps[0][0]] + steps
    days = [shares(plan, day) for day in range(29)]
    return max(now[feed] - was.get(feed, 0) for was, now in pairwise(days) for feed in now)


def shares(plan: dict[tuple[str, str, str], list[tuple[int, int]]], day: int) -> dict[str, float]:
    grams: dict[str, int] = defaultdict(int)
    for (_, _, feed), steps in plan.items():
        if feed != BARLEY:
            grams[feed] += next((g for start, g in reversed(steps) if start <= day), 0)
    return {feed: g / sum(grams.values()) for feed, g in grams.items()}
