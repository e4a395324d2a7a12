"""What one doe eats of a plan on a day, by the bag and the bale: the checker's own sums, and the searcher's."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from .days import SLOTS
from .keeper import Keeper
from .plan import Steps
from .truth.body import room_kg
from .truth.feeds import Feed
from .truth.goat import Goat

NDF = 600.0  # of middling hay, for her room
Plans = Mapping[tuple[str, str, str], Steps]
# Who is moved, and to which pen; nobody.
Move = tuple[str, str]
STAYS: Move = ("", "")


@dataclass(frozen=True, slots=True)
class Diet:
    """Dry kg eaten a day by feed, of her own pan and of the feeder; grain as given by meal, in grams as fed;
    `hay_before_her` is her part of the hay whether or not she eats it."""

    own: dict[str, float]
    shared: dict[str, float]
    meals_g: dict[str, float]
    hay_before_her: float

    def kg(self, feed: str) -> float:
        return self.own.get(feed, 0.0) + self.shared.get(feed, 0.0)

    @property
    def feeds(self) -> set[str]:
        return {*self.own, *self.shared}


def grams(plans: Plans, subject: str, slot: str, day: int) -> dict[str, int]:
    found = {}
    for (who, at, feed), steps in plans.items():
        if who == subject and at == slot:
            g = next((g for start, g in reversed(steps) if start <= day), 0)
            if g:
                found[feed] = g
    return found


def feed_of(keeper: Keeper, name: str) -> Feed:
    return next(feed for feed in keeper.farm.feeds.values() if feed.id == name)


def standing_in(keeper: Keeper, pen: str, move: Move) -> set[str]:
    """Who eats at a feeder once somebody has moved."""
    there = set(keeper.pens[pen].does) if pen in keeper.pens else set()
    return (there - {move[0]}) | ({move[0]} if move[1] == pen else set())


def diet(keeper: Keeper, doe: Goat, plans: Plans, day: int, move: Move = STAYS) -> Diet:
    """Her own pan first; the feeder's hay, less what it wastes, by what each has room for and no more than that."""
    at = move[1] if move[0] == doe.name else keeper.pen_of[doe.name]
    own = {name: own_kg(keeper, plans, name, day) for name in standing_in(keeper, at, move)}
    room = {name: left_room(keeper, name, day, sum(kg.values())) for name, kg in own.items()}
    offered = dry_kg(keeper, plans, at, day)
    net = sum(offered.values()) * (1 - keeper.farm.habits.waste)
    part = room[doe.name] * min(1.0, net / sum(room.values()))
    shared = {name: kg / sum(offered.values()) * part for name, kg in offered.items()}
    meals = {slot: g for slot in SLOTS if (g := grain_meal_g(keeper, plans, doe.name, slot, day))}
    hay = sum(kg for name, kg in dry_kg(keeper, plans, doe.name, day).items() if feed_of(keeper, name).sort != "grain")
    return Diet(own[doe.name], shared, meals, hay + net * room[doe.name] / sum(room.values()))


def dry_kg(keeper: Keeper, plans: Plans, subject: str, day: int) -> dict[str, float]:
    found = dict[str, float]()
    for slot in SLOTS:
        for name, g in grams(plans, subject, slot, day).items():
            found[name] = found.get(name, 0.0) + g / 1000 * feed_of(keeper, name).dm
    return found


def own_kg(keeper: Keeper, plans: Plans, name: str, day: int) -> dict[str, float]:
    """All of it where it fits."""
    kg = dry_kg(keeper, plans, name, day)
    most = room_kg(keeper.doe(name), keeper.farm.land, day, NDF)
    share = min(1.0, most / sum(kg.values())) if kg else 1.0
    return {feed: amount * share for feed, amount in kg.items()}


def left_room(keeper: Keeper, name: str, day: int, own: float) -> float:
    return max(0.01, room_kg(keeper.doe(name), keeper.farm.land, day, NDF) - own)


def grain_meal_g(keeper: Keeper, plans: Plans, name: str, slot: str, day: int) -> float:
    return sum(g for feed, g in grams(plans, name, slot, day).items() if feed_of(keeper, feed).sort == "grain")
