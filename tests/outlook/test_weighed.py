"""A raise waits while nobody knows what the scoop holds. That a weight ends with the bag, the lot or four months is
common practice, no source; dates and amounts are worked by hand."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay
from herd.outlook.rules import RULES
from herd.state.fold import fold
from tests.support.flat_doe import TODAY, one_doe, result
from tests.support.log import Log
from tests.support.outlooks import book, outlook

FILLS = [50, 51, 49, 50, 50]
KEEPS = RULES["weigh_again_d"].default


def on(day: int) -> str:
    return shift(TODAY, day)


def weigh(log: Log, day: int, fills: list[Any] | None = None, of: str = "scoop", lot: str = "") -> str:
    subject = "cup" if of == "scoop" else "heap"
    return log.add("calibration", subject, {"of": of, "fills_g": fills or FILLS, "lot": lot}, on(day), "morning")


def bag(log: Log, day: int, feed: str = "barley") -> str:
    return log.add("new_bag", "farm", {"feed": feed}, on(day), "evening")


def stand(*steps: tuple[int, int], hay_g: int = 1600) -> Log:
    """Barley by the cup on the stand, by days from today; the cup was weighed 30 days ago."""
    log = one_doe(hay_g)
    log.record("scoop", "cup", name="Tin cup", feed="barley", gone=False)
    weigh(log, -30)
    log.ration("fern", "evening", "barley", *((on(day), g) for day, g in steps))
    return log


def farm_of(log: Log) -> FarmDay:
    return FarmDay(fold(log.events), {"fern": outlook("fern", TODAY)}, book(), TODAY)


def grain(log: Log, *at: int) -> list[int]:
    farm = farm_of(log)
    return [sum(g for _, g in farm.ask("subject_lines", "fern", on(day), "evening")) for day in at]


STEPS = ((-40, 100), (-2, 150), (3, 200), (6, 120))


def test_a_raise_comes_by_a_weight_that_stands() -> None:
    assert grain(stand(*STEPS), -3, 0, 3, 6) == [100, 150, 200, 120]


def test_a_raise_after_a_new_bag_waits_and_a_cut_does_not() -> None:
    log = stand(*STEPS)
    bag(log, -5)
    # what was planned for days gone by is left as it was
    assert grain(log, -1, 0, 3, 6, 9) == [150, 100, 100, 100, 100]
    log.ration("fern", "evening", "barley", (on(4), 60), base=log.events[-2]["hlc"])
    assert grain(log, 3, 4) == [100, 60]


def test_what_was_raised_before_the_bag_stays() -> None:
    log = stand(*STEPS)
    bag(log, 0)
    assert grain(log, 0, 3) == [150, 150]


def test_a_second_bag_lets_nothing_through() -> None:
    log = stand(*STEPS)
    bag(log, -5)
    bag(log, 0)
    assert grain(log, 0, 3) == [100, 100]


def test_five_fills_let_the_raise_in() -> None:
    log = stand(*STEPS)
    bag(log, -5)
    weigh(log, 0)
    # weighed at six in the morning, and the bag is five days older; the raise that waited two days comes, and the next
    # two days after its day: they do not come at once
    assert grain(log, 0, 3, 5) == [150, 150, 200]
    assert farm_of(log).ask("raise_waiting", "fern", 7) is None


def test_what_starts_from_nothing_starts_and_then_waits() -> None:
    log = stand((-1, 60), (2, 120))
    bag(log, -3)
    assert grain(log, 0, 2) == [60, 60]
    assert farm_of(log).ask("raise_waiting", "fern", 7) == [on(2), "barley", 60, 120]


@pytest.mark.parametrize(("weighed", "since"), [(-KEEPS, ""), (-KEEPS - 1, on(0)), (-KEEPS - 10, on(-9))])
def test_a_weight_stands_as_long_as_the_herd_rule_says(weighed: int, since: str) -> None:
    log = one_doe()
    log.record("scoop", "cup", name="Tin cup", feed="barley", gone=False)
    weigh(log, weighed)
    assert farm_of(log).ask("old_since", "barley") == since


def test_one_fresh_scoop_is_enough_and_the_last_to_go_old_decides() -> None:
    log = stand(*STEPS)
    log.record("scoop", "red", name="Red", feed="barley", gone=False)
    log.add("calibration", "red", {"of": "scoop", "fills_g": FILLS, "lot": ""}, on(-4), "morning")
    bag(log, -5)
    assert farm_of(log).ask("old_since", "barley") == ""
    bag(log, -1)
    assert farm_of(log).ask("old_since", "barley") == on(-1)
    log.record("scoop", "red", gone=True)
    assert farm_of(log).ask("old_since", "barley") == on(-5)


def test_a_bag_taken_back_makes_nothing_old() -> None:
    log = stand(*STEPS)
    log.add("void", "farm", {"of": bag(log, -5)})
    assert grain(log, 0, 3) == [150, 200]


def test_a_feed_nobody_weighed_holds_nothing_back() -> None:
    log = one_doe()
    log.ration("fern", "evening", "barley", (on(-40), 100), (on(-2), 150))
    bag(log, -5)
    assert (farm_of(log).ask("old_since", "barley"), grain(log, 0)) == ("", [150])


def test_a_flake_goes_old_with_its_lot() -> None:
    log = one_doe()
    log.record("lot", "heap", name="Second cut", feed="hay", opened_on=on(-60))
    weigh(log, -30, [1500, 1600, 1400], "flake")
    assert farm_of(log).ask("old_since", "heap") == ""
    log.record("lot", "heap", opened_on=on(-7))
    assert farm_of(log).ask("old_since", "heap") == on(-7)
    bag(log, -9, "heap")
    assert farm_of(log).ask("old_since", "heap") == on(-9)


def test_a_flake_typed_in_counts_from_when_it_was_typed() -> None:
    log = one_doe()
    log.record("lot", "heap", name="Second cut", feed="hay", flake_g=1500)
    for day, since in ((-KEEPS, ""), (-KEEPS - 10, on(-9))):
        typed = int(datetime.fromisoformat(f"{on(day)}T12:00:00+00:00").timestamp() * 1000)
        log.events[-1]["hlc"] = f"{typed:012x}-0000-0000000a"
        assert farm_of(log).ask("old_since", "heap") == since


def test_she_is_named_where_her_raise_waits() -> None:
    log = stand(*STEPS)
    log.score("fern", on(-2), 300)
    bag(log, -5)
    said = result(log)["prompt"]
    assert (said["code"], said["args"]) == ("raise_waits", {"on": TODAY, "feed": "barley", "now": 100, "then": 150})
    ahead = stand((-40, 100), (3, 150), hay_g=1300)
    ahead.score("fern", on(-2), 300)
    for day in range(-8, 1):
        ahead.fed("p", on(day), "evening", ("fern", "barley", 100))
    assert result(ahead)["prompt"]["code"] == "steps_ahead"
    bag(ahead, -5)
    said = result(ahead)["prompt"]
    assert (said["code"], said["args"]["on"]) == ("raise_will_wait", on(3))
    assert farm_of(ahead).ask("next_step", "fern", 7) is None


def test_grain_held_because_she_left_it_is_not_called_a_raise_that_waits() -> None:
    log = stand(*STEPS)
    bag(log, -5)
    log.add("freeze", "fern", {"until_on": on(8), "grain_out": True, "of": ""}, on(-1))
    assert (grain(log, 0, 3), farm_of(log).ask("raise_waiting", "fern", 7)) == ([0, 0], None)
