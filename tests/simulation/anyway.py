"""The same farm where nobody follows an act: what would have been heard anyway."""

from __future__ import annotations

from .barn import live_day
from .days import WARM_UP_D, on
from .keeper import Keeper
from .phone import Phone
from .sample import farm


def heard_anyway(seed: int, number: int, first: int, last: int) -> set[tuple[str, str]]:
    """{(doe, word)} of the evenings first to last."""
    keeper, phone, heard = Keeper(farm(seed, number)), Phone(), set[tuple[str, str]]()
    for day in range(-WARM_UP_D, last + 1):
        live_day(keeper, day)
        if day >= first:
            said = phone.look(keeper.log.events, day, on(day))
            heard |= {(name, row["prompt"]["code"]) for name, row in said["does"].items() if row["prompt"]}
    return heard
