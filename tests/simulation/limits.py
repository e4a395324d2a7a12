"""A checker of acts by the trade's limits: plain sums over the plan before and after, nothing of the evaluator.

A limit counts as broken where the plan with the act lies past it and farther than without. Sources beside each.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from .diet import STAYS, Diet, Move, Plans, diet, feed_of
from .keeper import Keeper
from .truth.goat import Goat

# "more than a pound in one feeding is large", and by weight as of a doe of 65 kg (extension wording)
MEAL_G, MEAL_G_KG = 454.0, 7.0
# dry matter of grain per kg of doe a day and its share: dry 10 g (amber to 12) and 40 %; in milk 20 g and 60 % at most
# (Goat Science and Production, Table 10.11; the grams a judgement)
DAY_G_KG, DAY_MILK_G_KG, SHARE, MILK_SHARE = 10.0, 20.0, 0.40, 0.60
# hay at least 1.5 % of body weight (extension wording)
FORAGE_G_KG = 15.0
CA_P = 1.2  # extension: at least 1.2 : 1 for does
# a raise: up to a quarter pound a day for a standard doe, two ounces and a little for a small one, two days apart
STEP_G, STEP_APART_D = {"standard": 115.0, "mini": 65.0}, 2
# another hay comes in over a week: no more than a third of it from one day to the next (practice)
SWITCH = 0.34
# late, what she is given is not cut: five in a hundred is a half flake's rounding; of hay as it was tested or as its
# kind is, since nobody knows what is in a bale
LATE_GEST, CUT = 100, 0.05
# What nobody can hold against an act: a girth tape or a guess of her weight is off by a tenth and more.
WEIGHT_DOUBT = {"scale": 0.05, "tape": 0.15, "told": 0.15, "class": 0.25}
LOOKED_D = 14


@dataclass(frozen=True, slots=True)
class Broken:
    limit: str
    day: int
    before: float
    after: float
    most: float


def broken(keeper: Keeper, doe: Goat, before: Plans, after: Plans, first: int, move: Move = STAYS) -> list[Broken]:
    """Limits an act breaks within a fortnight, each on its first day."""
    found = dict[str, Broken]()
    raised = -99
    for day in range(first, first + LOOKED_D):
        was, now = diet(keeper, doe, before, day), diet(keeper, doe, after, day, move)
        yesterday = diet(keeper, doe, after, day - 1, move if day > first else STAYS)
        usual = diet(keeper, doe, before, day - 1)
        for one in [*amounts(keeper, doe, day, was, now), *changes(keeper, doe, day, (usual, was), (yesterday, now))]:
            found.setdefault(one.limit, one)
        if grain_g(now) > grain_g(yesterday) + 1:
            if day - raised < STEP_APART_D and grain_g(was) <= grain_g(usual) + 1:
                found.setdefault("raises apart", Broken("raises apart", day, 0, day - raised, STEP_APART_D))
            raised = day
    return list(found.values())


def amounts(keeper: Keeper, doe: Goat, day: int, was: Diet, now: Diet) -> Iterator[Broken]:
    milk, late = doe.dim(day) >= 0, 1 + WEIGHT_DOUBT[keeper.farm.habits.weighs]
    sides = [(one, max([0.0, *one.meals_g.values()]), grain_dry_g(keeper, one), whole_g(one)) for one in (was, now)]
    (_, meal_0, day_0, all_0), (_, meal, today, whole) = sides
    yield from over("grain a meal", day, meal_0, meal, MEAL_G)
    yield from over("grain a meal by weight", day, meal_0, meal, MEAL_G_KG * doe.kg / 0.88 * late)
    most = (DAY_MILK_G_KG if milk else DAY_G_KG) * doe.kg * late
    yield from over("grain a day by weight", day, day_0, today, most)
    share = (day_0 / all_0 if all_0 else 0.0, today / whole if whole else 0.0)
    yield from over("grain of all", day, *share, (MILK_SHARE if milk else SHARE) * 1.1)
    # how much of it she eats nobody knows beforehand
    hay = [1000 * one.hay_before_her for one in (was, now)]
    yield from under("forage", day, *hay, FORAGE_G_KG * doe.kg / late)
    yield from under("calcium to phosphorus", day, ca_p(keeper, was), ca_p(keeper, now), CA_P)


def changes(keeper: Keeper, doe: Goat, day: int, was: tuple[Diet, Diet], now: tuple[Diet, Diet]) -> Iterator[Broken]:
    """From the day before to this one, by the plan without (`was`) and with it (`now`)."""
    rise = [grain_g(two[1]) - grain_g(two[0]) for two in (was, now)]
    yield from over("grain step", day, *rise, STEP_G[doe.size])
    for name in now[1].feeds:
        if feed_of(keeper, name).sort != "grain":
            moved = [hay_share(keeper, two[1], name) - hay_share(keeper, two[0], name) for two in (was, now)]
            yield from over("switch of hay", day, *moved, SWITCH)
    if doe.gest(day) >= LATE_GEST:
        yield from under("late cut", day, kj(keeper, was[1]), kj(keeper, now[1]), kj(keeper, was[1]) * (1 - CUT))


def over(limit: str, day: int, before: float, after: float, most: float) -> Iterator[Broken]:
    if after > most * 1.001 and after > before * 1.001 + 1e-9:
        yield Broken(limit, day, before, after, most)


def under(limit: str, day: int, before: float, after: float, least: float) -> Iterator[Broken]:
    if after < least * 0.999 and after < before * 0.999 - 1e-9:
        yield Broken(limit, day, before, after, least)


def grain_g(one: Diet) -> float:
    return sum(one.meals_g.values())


def grain_dry_g(keeper: Keeper, one: Diet) -> float:
    return 1000 * sum(one.kg(name) for name in one.feeds if feed_of(keeper, name).sort == "grain")


def whole_g(one: Diet) -> float:
    return 1000 * sum(one.kg(name) for name in one.feeds)


def hay_share(keeper: Keeper, one: Diet, name: str) -> float:
    hay = sum(one.kg(feed) for feed in one.feeds if feed_of(keeper, feed).sort != "grain")
    return one.kg(name) / hay if hay else 0.0


def kj(keeper: Keeper, one: Diet) -> float:
    return sum(one.kg(name) * (feed_of(keeper, name).tested_kj or feed_of(keeper, name).usual_kj) for name in one.feeds)


def ca_p(keeper: Keeper, one: Diet) -> float:
    ca = sum(one.kg(name) * feed_of(keeper, name).ca for name in one.feeds)
    p = sum(one.kg(name) * feed_of(keeper, name).p for name in one.feeds)
    return ca / p if p else 9.0
