"""What somebody saw of her feeder, and what is put before her, tell what the sums leave open."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from tests.support.flat_doe import TODAY, days, held, late, one_doe, result
from tests.support.log import Log
from tests.support.outlooks import branch

MILKS = {"as_is": branch(milk_g=100, appetite_g=1000)}


def word(log: Log, branches: dict[str, Any] | None = None) -> tuple[str, str]:
    said = result(log, branches)["prompt"] or {"code": "", "args": {}}
    return said["code"], said["args"].get("witness", "")


def seen(log: Log, how: str, *back: int) -> Log:
    for ago in back:
        log.intake("p", shift(TODAY, -ago), "morning", how, 10 if how == "left_some" else 0)
    return log


def test_hay_left_in_the_feeder_says_that_there_was_enough() -> None:
    # 1054 g is 830 permille, below what she can eat to; the day before yesterday a tenth of the pen's hay was left
    assert word(one_doe(hay_g=1054)) == ("energy_short", "feeder")
    assert word(seen(one_doe(hay_g=1054), "left_some", 5))[0] != "energy_short"


def test_a_milker_who_leaves_hay_is_not_called_short_by_the_sums_alone() -> None:
    """980 g: 735 permille in the middle, nobody scored her, and we think she eats all she would."""
    eats_all = {"as_is": branch(milk_g=100, appetite_g=850)}
    assert word(one_doe(hay_g=980), eats_all) == ("energy_short", "sums")
    assert word(seen(one_doe(hay_g=980), "left_some", 5), eats_all)[0] != "energy_short"


def test_meal_after_meal_eaten_up_is_less_than_she_would_eat() -> None:
    # 1083 g is 854 permille, above the 840 that are said without more to go by
    assert word(seen(one_doe(hay_g=1083), "ate_all", 1, 2)) == ("score_her", "")
    assert word(seen(one_doe(hay_g=1083), "ate_all", 1, 2, 3)) == ("energy_short", "feeder")


def test_who_cleans_up_time_after_time_is_not_called_over_for_rich_hay() -> None:
    log = one_doe(1510, feed="alfalfa")
    assert word(log) == ("energy_over", "rich")
    assert word(seen(log, "ate_all", 1, 2, 3))[0] != "energy_over"


def test_a_heavy_doe_who_comes_down_is_not_losing_what_she_needs() -> None:
    """Above her band her fall bears nothing out; late it does."""
    for x100, told in ((300, True), (400, False)):
        log = one_doe(hay_g=1110)
        for back, score in ((30, x100 + 50), (3, x100)):
            log.score("fern", shift(TODAY, -back), score)
        assert (word(log) == ("energy_short", "condition")) is told


@pytest.mark.parametrize(("then_g", "told"), [(1400, True), (1900, False)])
def test_a_planned_cut_is_judged_by_what_is_put_before_her(then_g: int, told: bool) -> None:
    """Where we think a milker cannot eat it all, the ratio stays as it was while a quarter and more is taken away."""
    log = one_doe(hay_g=2000, own=False)
    base = next(event["hlc"] for event in log.events if event["kind"] == "ration")
    log.ration("p", "morning", "hay", (shift(TODAY, 6), then_g), base=base)
    # 1,030 g she is thought to eat, of 1,530 that reach her and 1,071 that will
    assert result(log, MILKS)["lines"]["me"]["got"] == 7 * 1030 * 8
    assert (word(log, MILKS)[0] == "energy_heading_short") is told


@pytest.mark.parametrize(("a_day_g", "told"), [(16, True), (0, False)])
def test_a_little_less_from_day_to_day_is_seen_before_the_ratio_moves(a_day_g: int, told: bool) -> None:
    log = one_doe(hay_g=1500, own=False, confirm=0)
    for ago, on in enumerate(reversed(days(20))):
        log.fed("p", on, "morning", ("", "hay", 1500 + a_day_g * (ago - 12) if ago < 12 else 1500))
    held(log)
    assert (word(log, {"as_is": branch(milk_g=300, appetite_g=1000)}) == ("energy_short", "less_feed")) is told


def test_a_plan_that_takes_more_than_was_too_much_is_told_before_what_is_too_much() -> None:
    log = one_doe(1510, feed="alfalfa")
    base = next(event["hlc"] for event in log.events if event["kind"] == "ration")
    assert word(log)[0] == "energy_over"
    log.ration("fern", "morning", "alfalfa", (shift(TODAY, 6), 900), base=base)
    assert word(log)[0] == "energy_heading_short"


@pytest.mark.parametrize(("seen_on", "told"), [((), False), ((1, 2), False), ((1, 2, 3), True)])
def test_a_milker_who_cleans_up_time_after_time_is_not_taken_to_be_full(seen_on: tuple[int, ...], told: bool) -> None:
    """1,020 g: 699 permille of 10,500 kJ, 765 in the middle, and about all we think she eats."""
    log = seen(one_doe(hay_g=1020), "ate_all", *seen_on)
    for back, x100 in ((30, 300), (5, 275)):
        log.score("fern", shift(TODAY, -back), x100)
    assert (word(log, {"as_is": branch(milk_g=100, appetite_g=900)}) == ("energy_short", "feeder")) is told


@pytest.mark.parametrize(
    ("hay_g", "how", "told"), [(1200, "ate_all", True), (1200, "", False), (1260, "ate_all", False)]
)
def test_late_below_her_floor_at_a_feeder_she_empties_she_is_short(hay_g: int, how: str, told: bool) -> None:
    """Floor 9,000 kJ: 1,200 g bring 8,640, 1,260 bring 9,072; we think she would eat a twentieth more."""
    log = one_doe(hay_g=hay_g)
    seen(log, how, *((1, 2, 3) if how else ()))
    for back in (60, 12):
        log.score("fern", shift(TODAY, -back), 300)
    assert (word(log, late(appetite_g=hay_g * 95 // 100)) == ("energy_short", "feeder")) is told


@pytest.mark.parametrize(
    ("how", "then_g", "told"), [("ate_all", 1600, True), ("", 1600, False), ("ate_all", 1900, False)]
)
def test_a_planned_cut_counts_where_she_eats_up_more_than_we_think_she_can(how: str, then_g: int, told: bool) -> None:
    """1,530 g reach her of 2,000, we think she eats 1,000; a fifth less still is more than that."""
    log = one_doe(hay_g=2000, own=False)
    base = next(event["hlc"] for event in log.events if event["kind"] == "ration")
    log.ration("p", "morning", "hay", (shift(TODAY, 6), then_g), base=base)
    seen(log, how, *((1, 2, 3) if how else ()))
    assert (word(log, {"as_is": branch(appetite_g=1000)})[0] == "energy_heading_short") is told
