"""What was weighed beats the winding down the herd's dry-off day plans; amounts worked by hand from the weighings."""

from __future__ import annotations

from datetime import date

from herd.outlook.book import compile_book
from herd.outlook.compile import compile_doe
from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay
from herd.outlook.rules import rules_of
from herd.state.fold import fold
from tests.support.log import Log

BRED_ON, DRY_OFF_D = "2026-08-20", 90
WEEKLY = 7


def milker(last_weighed_d: int, g: int = 2000) -> Log:
    """Juno gives the same two kilograms each Friday, carries, and is never dried off."""
    log = Log()
    log.record("doe", "juno", name="Juno", size="standard", breed="alpine", kiddings_before=3)
    log.add("kidded", "juno", {"born": 2, "alive": 2}, "2026-03-20")
    log.add("bred", "juno", {"from_on": BRED_ON, "to_on": BRED_ON, "how": "hand", "buck": ""}, BRED_ON)
    for back in range(10):
        day = last_weighed_d - WEEKLY * back
        log.add("milk", "juno", {"g": g, "fat_x100": 0}, shift(BRED_ON, day), "morning")
    return log


def farm(log: Log, day: int, compiled_d: int | None = None) -> FarmDay:
    """Her farm on a day of gestation, by an outlook of that day or of one before it."""
    view = fold(log.events)
    made = date.fromisoformat(shift(BRED_ON, day if compiled_d is None else compiled_d))
    outlook = dict(compile_doe(view["does"]["juno"], rules_of({}), made, "juno"))
    return FarmDay(view, {"juno": outlook}, dict(compile_book(view)), shift(BRED_ON, day))


def milk(of: FarmDay, day: int) -> int:
    asked: int = of.ask("milk_on", "juno", shift(BRED_ON, day))
    return asked


def test_a_milker_weighed_weekly_is_not_wound_down_by_the_herds_day() -> None:
    for day in range(DRY_OFF_D - 8, DRY_OFF_D + 6):
        last = day - day % WEEKLY
        assert abs(milk(farm(milker(last), day), day) - 2000) <= 60, f"day {day}, weighed on {last}"


def test_past_the_herds_day_she_is_still_in_milk_until_somebody_dries_her() -> None:
    still = farm(milker(DRY_OFF_D - 1), DRY_OFF_D + 1, compiled_d=DRY_OFF_D - 2)
    assert abs(milk(still, DRY_OFF_D + 1) - 2000) <= 60


def test_days_ahead_go_down_as_planned_from_what_she_gives_today() -> None:
    of = farm(milker(84), 86)
    ahead = [milk(of, day) for day in range(86, DRY_OFF_D + 1)]
    assert abs(ahead[0] - 2000) <= 60
    assert ahead == sorted(ahead, reverse=True)
    assert ahead[-2] < 1600
    assert ahead[-1] == 0


def test_a_cut_that_was_weighed_counts() -> None:
    log = milker(80)
    log.add("milk", "juno", {"g": 1200, "fat_x100": 0}, shift(BRED_ON, 86), "morning")
    assert abs(milk(farm(log, 87), 87) - 1200) <= 40


def test_nobody_weighed_lately_then_the_plan_is_all_there_is() -> None:
    of = farm(milker(60), 88)
    assert milk(of, 88) < 1600


def test_dried_off_is_dried_off_whatever_was_weighed() -> None:
    log = milker(84)
    log.add("dried_off", "juno", {}, shift(BRED_ON, 85))
    assert milk(farm(log, 86), 86) == 0
    assert milk(farm(log, 86, compiled_d=84), 86) == 0
