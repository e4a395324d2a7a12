"""More farms of invented does for reading aloud, of every state: see `told_does.py`."""

from __future__ import annotations

from collections.abc import Callable

from tests.support.act_farm import BARLEY, GRASS, LEGUME, MIXED, POOR
from tests.support.some_does import STANDARD, SomeDoes
from tests.support.told_does import FIRST, buck, dry, held, kids_on, milker, open_doe, shared, stepped_plan


def late_fat_miniature() -> SomeDoes:
    return dry(34, 118, 3, {GRASS: 900, LEGUME: 250}, 150, {-30: 375, -1: 400})


def in_bag(does: SomeDoes, day: int) -> SomeDoes:
    """Found with her head in the bin."""
    does.log.add("got_into", "ada", {"feed": BARLEY, "g": 300}, does.on(day), "evening")
    return does


def leaves_meals(does: SomeDoes, *days: int) -> SomeDoes:
    for day in days:
        does.log.intake("ada", does.on(day), "morning", "left_some", 30)
    return does


def two_pens() -> SomeDoes:
    """A late doe and an early one at one feeder; a yearling apart, with grain."""
    farm = shared({GRASS: 3600, LEGUME: 1200}, ada=(62, 108, 2, held(300)), bea=(58, 40, 2, held(325)))
    farm.doe("cleo", 38, 95, 1, "south", **{**STANDARD, "mature_kg": 55, **FIRST})
    farm.given("south", **{GRASS: 1300})
    farm.given("cleo", **{BARLEY: 100})
    farm.scored("cleo", 275, *range(-56, 28, 14))
    return farm


MORE: dict[str, Callable[[], SomeDoes]] = {
    # dry, early and mid
    "55 kg, day 30, single, second-cut hay, 3.75": lambda: dry(
        55, 30, 1, {MIXED: 1700}, 0, {-40: 350, -2: 375, 26: 375}
    ),
    "45 kg, day 75, twins, all alfalfa, 3": lambda: dry(45, 75, 2, {LEGUME: 1500}, 0, held(300)),
    "75 kg, day 70, triplets, prairie hay, 2.5": lambda: dry(75, 70, 3, {POOR: 2300}, 0, {-60: 275, -20: 250, 8: 250}),
    "50 kg, day 88, twins, grass and 250 g, 4": lambda: dry(50, 88, 2, {GRASS: 1400}, 250, {-30: 375, -3: 400}),
    "mini 27 kg, day 20, quads unknown, unscored, grain": lambda: dry(27, 20, 0, {GRASS: 800}, 250),
    "65 kg, day 45, twins, hay falls week by week": lambda: stepped_plan(
        dry(65, 45, 2, {}, 0, held(300)),
        "pen",
        GRASS,
        (-60, 1900),
        (-7, 1800),
        (0, 1700),
        (7, 1550),
        (14, 1400),
        (21, 1250),
    ),
    # dry, late
    "mini 25 kg, day 105, quadruplets, usual hay": lambda: dry(25, 105, 4, {GRASS: 700, LEGUME: 300}, 0, held(300)),
    "mini 34 kg, day 118, triplets, fat 4": late_fat_miniature,
    "58 kg, day 100, single, thin 2.25, grass": lambda: dry(58, 100, 1, {GRASS: 1700}, 0, {-30: 250, -2: 225, 12: 225}),
    "70 kg, day 125, triplets, mixed hay and 400 g, unscored": lambda: dry(70, 125, 3, {MIXED: 2000}, 400),
    "60 kg, day 128, twins, prairie hay, 3": lambda: dry(60, 128, 2, {POOR: 2200}, 0, held(300)),
    "52 kg, day 110, not scanned, half a feeder, 2.75": lambda: dry(52, 110, 0, {GRASS: 1000}, 0, held(275)),
    "60 kg, day 140, twins, good hay, no grain, kids in nine days": lambda: kids_on(
        dry(60, 140, 2, {GRASS: 1500, LEGUME: 600}, 0, held(300)), 9
    ),
    # first fresheners
    "first, 44 of 60 kg, day 115, single, grass": lambda: dry(
        44, 115, 1, {GRASS: 1500}, 0, held(275), **FIRST, mature_kg=60
    ),
    "first mini, 20 of 30 kg, day 90, twins, usual hay": lambda: dry(
        20, 90, 2, {GRASS: 700, LEGUME: 150}, 0, held(300), **FIRST, mature_kg=30
    ),
    # fresh and in milk
    "60 kg, day 3 in milk, 2 kg, grass hay, 200 g": lambda: milker(
        60, 3, 2000, {GRASS: 2000}, 200, {-10: 300, 12: 275}
    ),
    "mini 30 kg, day 5 in milk, 1.2 kg, usual hay, no grain": lambda: milker(30, 5, 1200, {GRASS: 900, LEGUME: 400}),
    "70 kg, day 45, 4 kg, alfalfa and 1.2 kg, falls": lambda: milker(
        70, 45, 4000, {LEGUME: 2400}, 1200, {-40: 325, -20: 300, -2: 250, 20: 250}
    ),
    "60 kg, day 150, 1.5 kg, 600 g, rises to 3.75": lambda: milker(
        60, 150, 1500, {MIXED: 2200}, 600, {-40: 325, -20: 350, -2: 375, 20: 400}
    ),
    "60 kg, day 250, 0.6 kg, carrying 40, grass and 200 g": lambda: milker(
        60, 250, 600, {GRASS: 1900}, 200, held(325), gest=40
    ),
    "mini 26 kg, day 60, 1.5 kg, 500 g in two meals": lambda: milker(
        26, 60, 1500, {GRASS: 700, LEGUME: 400}, 500, held(275)
    ),
    "66 kg, day 210, 2 kg, carrying 70, weighed, to be dried": lambda: milker(
        66, 210, 2000, {GRASS: 1600, LEGUME: 800}, 500, held(300), gest=70
    ),
    "60 kg, day 90, 2 kg, thin 1.75, never weighed": lambda: milker(
        60, 90, 2000, {GRASS: 2100}, 300, {-30: 200, -2: 175}, weighs=False
    ),
    # open
    "66 kg, open, alfalfa, 3.5 and rising": lambda: open_doe(66, {LEGUME: 1900}, 0, {-40: 325, -2: 350, 20: 375}),
    "doeling 18 of 30 kg, open, grass and 150 g": lambda: open_doe(
        18, {GRASS: 650}, 150, held(300), **FIRST, mature_kg=30
    ),
    # together
    "a late and an early doe at one feeder, a yearling apart": two_pens,
    "two minis, one late with four": lambda: shared(
        {GRASS: 1400, LEGUME: 500}, ada=(27, 120, 4, held(275)), bea=(32, 50, 1, held(350))
    ),
    # at the bin, left meals, bucks
    "60 kg, day 120, head in the bin, and leaves a meal": lambda: leaves_meals(
        in_bag(dry(60, 120, 2, {GRASS: 2000}, 100, held(300)), 2), 3
    ),
    "buck, thin, on hay": lambda: buck(1600, 0, 200),
}
