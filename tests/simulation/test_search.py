"""The search for a safe act holds itself to what a feeder can do."""

from __future__ import annotations

from copy import deepcopy

from .acts import ASKED
from .barn import live_day
from .days import MEALS, WARM_UP_D
from .diet import diet, feed_of
from .keeper import Keeper
from .sample import farm
from .search import hays, plain_pan, plainer


def met(seed: int, number: int) -> Keeper:
    keeper = Keeper(farm(seed, number))
    for day in range(-WARM_UP_D, ASKED + 1):
        live_day(keeper, day)
    return keeper


def kj(keeper: Keeper, name: str, plans: dict[tuple[str, str, str], list[tuple[int, int]]]) -> float:
    found = diet(keeper, keeper.doe(name), plans, ASKED + 1)
    return sum(found.kg(feed) * feed_of(keeper, feed).kj for feed in found.feeds)


def test_plain_hay_in_her_own_pan_eases_nobody_who_has_room_at_a_shared_feeder() -> None:
    keeper = met(2, 30)
    doe = keeper.doe("doe0")
    now = diet(keeper, doe, keeper.plan.steps, ASKED)
    before = kj(keeper, "doe0", keeper.plan.steps)
    for hay in hays(keeper):
        after = deepcopy(keeper.plan.steps)
        for slot in MEALS:
            after["doe0", slot, hay.id] = [(ASKED + 1, 150)]
        assert kj(keeper, "doe0", after) > before
    assert not plainer(keeper, doe, ASKED, now, "me", 300.0)


def test_a_full_doe_eats_the_less_of_the_mix() -> None:
    keeper = met(4, 33)
    doe = keeper.doe("doe1")
    now = diet(keeper, doe, keeper.plan.steps, ASKED)
    assert plain_pan(keeper, doe, ASKED, now, "me", 1.0)
    assert not plain_pan(keeper, doe, ASKED, now, "me", 1e5)
