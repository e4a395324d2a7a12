"""Does at the three stretches of a year that are planned whole: drying off, close-up, the grain after kidding."""

from __future__ import annotations

from typing import Any

from tests.support.act_farm import BARLEY, FED_D, GRASS, LEGUME, barn
from tests.support.some_does import MEALS, MINIATURE, STANDARD, SomeDoes


def milker(
    does: SomeDoes, name: str, kg: int, gest: int, pen: str, *, milk_g: int, grain_g: int, hay_g: int, **fields: Any
) -> None:
    """In milk and carrying two; a third of her hay is alfalfa."""
    does.doe(name, kg, gest, 2, pen, **fields)
    does.log.add("kidded", name, {"born": 2, "alive": 2}, does.on(-gest - 120))
    for day in range(-42, 0, 7):
        for slot in MEALS:
            does.log.add("milk", name, {"g": milk_g // 2, "fat_x100": 0}, does.on(day), slot)
    does.given(name, **{BARLEY: grain_g})
    does.given(pen, **{GRASS: hay_g * 2 // 3, LEGUME: hay_g // 3})
    does.scored(name, 300, -10)


def carrier(does: SomeDoes, name: str, kg: int, gest: int, kids: int, pen: str, *, hay_g: int, **fields: Any) -> None:
    """Dry and carrying, on grass with a fifth of alfalfa and no grain."""
    does.doe(name, kg, gest, kids, pen, **fields)
    does.given(pen, **{GRASS: hay_g * 4 // 5, LEGUME: hay_g // 5})
    does.scored(name, 300, -10)


def fresh(does: SomeDoes, name: str, kg: int, since: int, pen: str, *, grain_g: int, hay_g: int, **fields: Any) -> None:
    """Kidded so many days ago, on what she got before it."""
    does.doe(name, kg, 0, 0, pen, **fields)
    bred = does.on(-since - 148)
    does.log.add("bred", name, {"from_on": bred, "to_on": bred, "how": "hand", "buck": ""}, bred)
    does.log.add("kidded", name, {"born": 2, "alive": 2}, does.on(-since))
    does.given(name, **{BARLEY: grain_g})
    does.given(pen, **{GRASS: hay_g * 2 // 3, LEGUME: hay_g // 3})
    does.scored(name, 300, -10)


def farm_of() -> SomeDoes:
    """One farm with a doe for each page."""
    does = barn()
    milker(does, "fern", 60, 80, "north", milk_g=2500, grain_g=800, hay_g=2600, **STANDARD)
    milker(does, "hazel", 32, 118, "south", milk_g=700, grain_g=200, hay_g=1200, **MINIATURE)
    carrier(does, "juniper", 60, 126, 3, "east", hay_g=2100, **STANDARD)
    carrier(does, "maple", 30, 140, 2, "west", hay_g=1100, **MINIATURE)
    fresh(does, "olive", 60, 2, "hill", grain_g=400, hay_g=3000, **STANDARD)
    milker(does, "poppy", 32, 95, "dell", milk_g=700, grain_g=100, hay_g=1200, **MINIATURE)
    does.log.add("dried_off", "poppy", {}, does.on(-3))
    does.fed_as_planned(-FED_D, -1)
    return does
