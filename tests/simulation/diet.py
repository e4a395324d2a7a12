"""What a plan puts before one doe on a day, by the bag and the bale: the checker's own sums, and the searcher's."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from .days import SLOTS
from .keeper import Keeper
from .plan import Steps
from .truth.body import room_kg
from .truth.feeds import Feed
from .truth.goat import Goat

Plans = Mapping[tuple[str, str, str], Steps]


@dataclass(frozen=True, slots=True)
class Diet:
    """Dry kg a day by feed: of her own pan, and what reaches her of the feeder; grain as fed by meal, in grams."""

    own: dict[str, float]
    shared: dict[str, float]
    meals_g: dict[str, float]

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


def diet(keeper: Keeper, doe: Goat, plans: Plans, day: int, pen: str = "") -> Diet:
    """The feeder's hay is shared by what each would eat, less what it wastes."""
    at = keeper.pens[pen or keeper.pen_of[doe.name]]
    mates = {doe.name, *at.does}
    hunger = {name: room_kg(keeper.doe(name), keeper.farm.land, day, 600.0) for name in mates}
    part = hunger[doe.name] / sum(hunger.values()) * (1 - keeper.farm.habits.waste)
    own, shared, meals = dict[str, float](), dict[str, float](), dict[str, float]()
    for slot in SLOTS:
        for name, g in grams(plans, doe.name, slot, day).items():
            feed = feed_of(keeper, name)
            own[name] = own.get(name, 0.0) + g / 1000 * feed.dm
            if feed.sort == "grain":
                meals[slot] = meals.get(slot, 0.0) + g
        for name, g in grams(plans, at.id, slot, day).items():
            shared[name] = shared.get(name, 0.0) + g / 1000 * feed_of(keeper, name).dm * part
    return Diet(own, shared, meals)
