"""Short is never switched off by a date: late, less before her than she would eat and below her floor speaks alone."""

from __future__ import annotations

from tests.support.known_does import in_two_meals, standard, told, witness
from tests.support.one_doe import OneDoe

LATE = range(101, 146, 2)
SCORED_ON = (*range(60, 146, 14),)


def fixed_hay(grams_a_day: int, kids: int = 2, x100: int = 0) -> OneDoe:
    """60 kg; the same grass hay from breeding on, the feeder eaten clean; perhaps scored the same every fortnight."""
    doe = standard(kids)
    in_two_meals(doe, "pen", -10, grass_hay_general=grams_a_day)
    doe.fed_as_planned(-10, 150)
    if x100:
        doe.scored(x100, *SCORED_ON)
    return doe


def test_half_fed_she_is_short_every_day_from_one_hundred_on_whether_scored_or_not() -> None:
    assert set(told(fixed_hay(1000), *LATE).values()) == {"energy_short"}


def test_half_fed_and_scored_three_every_fortnight_she_is_never_called_level() -> None:
    said = told(fixed_hay(1000, x100=300), *LATE)
    assert set(said.values()) == {"energy_short"}


def test_what_bears_it_out_is_the_feeder_she_empties() -> None:
    assert witness(fixed_hay(1500), 125) == "feeder"


def test_hay_to_appetite_is_not_called_short_for_the_appetite_that_falls() -> None:
    said = told(fixed_hay(2300, x100=300), *range(101, 140, 2))
    assert "energy_short" not in said.values()
