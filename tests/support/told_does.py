"""Farms of invented does for reading aloud: what each is fed, scored and seen to do over four weeks from today on."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from tests.support.act_farm import BARLEY, GRASS, LEGUME, MIXED, POOR, barn
from tests.support.some_does import MEALS, MINIATURE, STANDARD, SomeDoes

FORTNIGHT = (-56, -42, -28, -14, -1, 13, 27)
FIRST = {"kiddings_before": 0, "born_on": "2025-03-01"}


def dry(
    kg: int,
    gest: int,
    kids: int,
    hay: dict[str, int],
    grain: int = 0,
    scores: dict[int, int] | None = None,
    **fields: Any,
) -> SomeDoes:
    """A carrying doe alone at her feeder; `scores` by day."""
    does = barn()
    does.doe("ada", kg, gest, kids, **{**(MINIATURE if kg < 46 else STANDARD), **fields})
    does.given("pen", **hay)
    if grain:
        does.given("ada", **{BARLEY: grain})
    for day, x100 in (scores or {}).items():
        does.scored("ada", x100, day)
    return does


def open_doe(
    kg: int, hay: dict[str, int], grain: int = 0, scores: dict[int, int] | None = None, **fields: Any
) -> SomeDoes:
    return dry(kg, 0, 0, hay, grain, scores, **fields)


def milker(
    kg: int,
    dim: int,
    milk: int,
    hay: dict[str, int],
    grain: int = 0,
    scores: dict[int, int] | None = None,
    gest: int = 0,
    weighs: bool = True,
    **fields: Any,
) -> SomeDoes:
    """In milk so many days today, `milk` grams a day; weighed weekly, or never."""
    does = dry(kg, gest, 2 if gest > 50 else 0, hay, grain, scores, **fields)
    does.log.add("kidded", "ada", {"born": 2, "alive": 2}, does.on(-dim))
    for day in range(max(-56, 4 - dim), 28, 7) if weighs else ():
        for slot in MEALS:
            does.log.add("milk", "ada", {"g": milk // 2, "fat_x100": 0}, does.on(day), slot)
    return does


def held(x100: int, *days: int) -> dict[int, int]:
    return dict.fromkeys(days or FORTNIGHT, x100)


def falls(first: int = 300) -> dict[int, int]:
    return {-30: first, -14: first - 25, -1: first - 50, 13: first - 75}


def stepped_plan(does: SomeDoes, subject: str, feed: str, *steps: tuple[int, int]) -> SomeDoes:
    for slot in MEALS:
        does.plan(subject, slot, feed, *((day, g // 2) for day, g in steps))
    return does


def left(does: SomeDoes, day: int, slot: str, how: str = "left_some", pct: int = 30) -> SomeDoes:
    does.log.intake("ada", does.on(day), slot, how, pct)
    return does


def kids_on(does: SomeDoes, day: int) -> SomeDoes:
    does.log.add("kidded", "ada", {"born": 2, "alive": 2}, does.on(day), "morning")
    return does


def shared(hay: dict[str, int], **does: tuple[int, int, int, dict[int, int]]) -> SomeDoes:
    """Does of one feeder: kg, day of gestation, kids, scores."""
    farm = barn()
    for name, (kg, gest, kids, scores) in does.items():
        farm.doe(name, kg, gest, kids, **(MINIATURE if kg < 46 else STANDARD))
        for day, x100 in scores.items():
            farm.scored(name, x100, day)
    farm.given("pen", **hay)
    return farm


def buck(hay: int, grain: int = 0, x100: int = 300) -> SomeDoes:
    does = barn()
    does.doe("ada", 75, 0, 0, **{**STANDARD, "sex": "buck"})
    does.given("pen", **{GRASS: hay})
    if grain:
        does.given("ada", **{BARLEY: grain})
    does.scored("ada", x100, -5)
    return does


FARMS: dict[str, Callable[[], SomeDoes]] = {
    # carrying, early and mid
    "miniature 30 kg, day 40, twins, usual hay, scored": lambda: dry(
        30, 40, 2, {GRASS: 960, LEGUME: 240}, 0, held(300)
    ),
    "miniature 24 kg, day 80, triplets, usual hay, unscored": lambda: dry(24, 80, 3, {GRASS: 800, LEGUME: 200}),
    "60 kg, day 70, twins, half fed, unscored": lambda: dry(60, 70, 2, {POOR: 1000}),
    "60 kg, day 60, single, poor hay free choice, scored 3": lambda: dry(60, 60, 1, {POOR: 2300}, 0, held(300)),
    "60 kg, day 60, rich hay and grain, 3.5": lambda: dry(60, 60, 2, {LEGUME: 2200}, 400, held(350)),
    "70 kg, day 80, fat 4.25, grass and grain": lambda: dry(70, 80, 2, {GRASS: 2000}, 300, {-30: 400, -1: 425}),
    "70 kg, day 40, thin 2, grass hay": lambda: dry(70, 40, 2, {GRASS: 1800}, 0, {-1: 200}),
    "first freshener 40 of 55 kg, day 60, single, grass": lambda: dry(40, 60, 1, {GRASS: 1400}, 0, held(300), **FIRST),
    # late
    "60 kg, day 100, twins, level hay, scored": lambda: dry(60, 100, 2, {GRASS: 1700, LEGUME: 500}, 0, held(300)),
    "60 kg, day 100, twins, level hay, unscored": lambda: dry(60, 100, 2, {GRASS: 1700, LEGUME: 500}),
    "60 kg, day 118, triplets, short, falling": lambda: dry(60, 118, 3, {GRASS: 1500}, 0, falls()),
    "60 kg, day 118, litter not counted, grass hay, unscored": lambda: dry(60, 118, 0, {GRASS: 1900}),
    "90 kg, day 115, quadruplets, alfalfa and grain": lambda: dry(90, 115, 4, {LEGUME: 2600}, 500, held(325)),
    "60 kg, day 110, thin 2, all alfalfa": lambda: dry(60, 110, 2, {LEGUME: 2300}, 0, falls(250)),
    "60 kg, day 108, all alfalfa, 3": lambda: dry(60, 108, 2, {LEGUME: 2200}, 0, held(300)),
    "60 kg, day 105, fat 4, hay and grain": lambda: dry(60, 105, 2, {GRASS: 1800}, 300, held(400)),
    "60 kg, day 112, too much grain": lambda: dry(60, 112, 2, {GRASS: 1200}, 900, held(300)),
    "miniature 32 kg, day 122, twins, to kidding and fresh": lambda: kids_on(
        dry(32, 122, 2, {GRASS: 800, LEGUME: 400}, 0, held(300)), 24
    ),
    "60 kg, day 120, kids late, past due": lambda: dry(60, 136, 2, {GRASS: 1600, LEGUME: 500}, 200, held(300)),
    "60 kg, day 120, plan cut in two weeks": lambda: stepped_plan(
        dry(60, 112, 2, {LEGUME: 500}, 0, held(300)), "pen", GRASS, (-60, 1800), (14, 900)
    ),
    "60 kg, day 121, leaves feed": lambda: left(
        left(dry(60, 121, 2, {GRASS: 1700, LEGUME: 500}, 200, held(300)), 3, "morning"), 3, "evening", "refused", 100
    ),
    # in milk
    "65 kg, day 8 in milk, 2.4 kg, mixed hay, some grain": lambda: milker(
        65, 8, 2400, {MIXED: 2300}, 300, {-12: 325, 10: 300}
    ),
    "65 kg, day 15 in milk, grass hay only, unscored": lambda: milker(65, 15, 2400, {GRASS: 2300}),
    "65 kg, day 60, 3 kg, short, never scored": lambda: milker(65, 60, 3000, {GRASS: 2000}, 300),
    "65 kg, day 60, 3 kg, falling": lambda: milker(65, 60, 3000, {GRASS: 2200}, 500, falls()),
    "65 kg, day 90, 2.5 kg, fed well, no milk weighed": lambda: milker(
        65, 90, 2500, {MIXED: 2500}, 900, held(300), weighs=False
    ),
    "65 kg, day 200, 1 kg, much grain, fat": lambda: milker(65, 200, 1000, {MIXED: 2200}, 900, {-30: 350, -1: 400}),
    "80 kg, day 100, 4 kg, heavy grain": lambda: milker(80, 100, 4000, {MIXED: 2800}, 1700, held(275)),
    "miniature 32 kg, day 120, 1 kg": lambda: milker(32, 120, 1000, {GRASS: 900, LEGUME: 500}, 300, held(300)),
    "miniature 28 kg, first, day 40, short": lambda: milker(
        28, 40, 900, {GRASS: 1000}, 100, {-20: 300, -2: 250}, **FIRST
    ),
    "62 kg milking through, day 75 carrying, 1.6 kg": lambda: milker(
        62, 230, 1600, {MIXED: 2200}, 400, held(300), gest=75
    ),
    "62 kg milking and carrying, day 60, not weighed, unscored": lambda: milker(
        62, 215, 1500, {GRASS: 2000}, 300, gest=60, weighs=False
    ),
    # open, growing
    "60 kg, open, grass hay": lambda: open_doe(60, {GRASS: 1700}, 0, held(300)),
    "60 kg, open, thin": lambda: open_doe(60, {POOR: 1500}, 0, {-1: 200}),
    "60 kg, open, fat, grain": lambda: open_doe(60, {GRASS: 1700}, 400, {-1: 425}),
    "doeling 25 of 32 kg, open, grass": lambda: open_doe(25, {GRASS: 900}, 0, held(300), **FIRST),
    # together
    "three at one feeder, one thin and late": lambda: shared(
        {GRASS: 5600}, ada=(60, 105, 2, held(300)), bea=(60, 105, 2, held(300)), cleo=(55, 112, 3, falls(275))
    ),
    "three at one feeder, all short": lambda: shared(
        {POOR: 3600}, ada=(60, 105, 2, {}), bea=(62, 100, 2, {}), cleo=(55, 112, 1, {})
    ),
    "three at one feeder, one fat": lambda: shared(
        {GRASS: 4200}, ada=(60, 112, 2, falls()), bea=(60, 112, 2, falls()), cleo=(66, 112, 1, held(400))
    ),
    "miniatures and a big doe": lambda: shared(
        {GRASS: 3800}, ada=(28, 60, 2, held(300)), bea=(30, 75, 3, held(300)), cleo=(68, 90, 2, held(300))
    ),
    # bucks
    "buck on hay": lambda: buck(2000),
    "buck, fat, on grain": lambda: buck(2000, 500, 425),
    "buck leaves feed": lambda: left(buck(2000), 3, "morning"),
}
