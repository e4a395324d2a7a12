"""Hay a doe holds her condition on is hers to eat: over is said only where something besides the sums bears it out."""

from __future__ import annotations

import pytest

from tests.support.known_does import in_two_meals, miniature, standard, told, witness
from tests.support.one_doe import OneDoe

FORTNIGHTS = range(0, 150, 14)
EVERY_OTHER_DAY = range(1, 150, 2)
OVER = {"energy_over", "energy_heading_over"}


def free_choice(doe: OneDoe, **grams_a_day: int) -> OneDoe:
    """All she would eat, and what the feeder wastes, from before she was bred; scored 3 every fortnight."""
    in_two_meals(doe, "pen", -10, **grams_a_day)
    doe.fed_as_planned(-10, 150)
    doe.scored(300, *FORTNIGHTS)
    return doe


USUAL = {
    "a 30 kg miniature with twins, a fifth alfalfa": lambda: free_choice(
        miniature(), grass_hay_general=960, alfalfa_hay_mid=240
    ),
    "a 60 kg doe, plain grass hay": lambda: free_choice(standard(), orchardgrass_hay=2300),
    "a 60 kg doe, prairie hay": lambda: free_choice(standard(), prairie_hay=2300),
}


@pytest.mark.slow
@pytest.mark.parametrize("who", USUAL)
def test_free_choice_hay_is_never_over_from_breeding_to_kidding(who: str) -> None:
    said = told(USUAL[who](), *EVERY_OTHER_DAY)
    assert OVER.isdisjoint(said.values())


def test_the_same_miniature_given_grain_besides_is_over_by_what_she_could_do_without() -> None:
    doe = miniature()
    in_two_meals(doe, "pen", -10, grass_hay_general=960, alfalfa_hay_mid=240)
    in_two_meals(doe, "doe", -10, barley_grain=200)
    doe.fed_as_planned(-10, 90)
    assert (told(doe, 40)[40], witness(doe, 40)) == ("energy_over", "rich")


def test_plain_hay_is_over_once_her_hand_scores_climb() -> None:
    doe = standard()
    in_two_meals(doe, "pen", -10, orchardgrass_hay=2300)
    doe.fed_as_planned(-10, 90)
    doe.scored(300, 10)
    doe.scored(350, 45)
    assert (told(doe, 50)[50], witness(doe, 50)) == ("energy_over", "rising")


def in_milk(grain_g: int) -> OneDoe:
    """60 kg, not bred yet, 120 days in milk and down to half a litre."""
    doe = standard()
    doe.log.add("kidded", "doe", {"born": 2, "alive": 2}, doe.on(-120))
    in_two_meals(doe, "pen", -20, alfalfa_grass_hay_50=2200)
    in_two_meals(doe, "doe", -20, **({"barley_grain": grain_g} if grain_g else {}))
    doe.fed_as_planned(-20, 20)
    for day in range(-20, 20, 5):
        for slot in ("morning", "evening"):
            doe.log.add("milk", "doe", {"g": 250, "fat_x100": 0}, doe.on(day), slot)
    return doe


def test_a_milker_is_over_on_grain_she_could_do_without_and_not_on_hay_alone() -> None:
    assert (told(in_milk(600), 10)[10], witness(in_milk(600), 10)) == ("energy_over", "rich")
    assert told(in_milk(0), 10)[10] not in OVER
