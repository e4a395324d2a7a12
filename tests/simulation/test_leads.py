"""Lead times: when truth passes a share, what a planned step is, and how a run is counted."""

from __future__ import annotations

from .days import WARM_UP_D
from .keeper import Keeper
from .leads import AHEAD_D, ENTERED, FALL, NEVER, TO_75, Lead, falls, lead_farm, lead_table, passes, steps_to
from .truth.goat import Goat


def kept(scenario: str) -> Keeper:
    keeper = Keeper(lead_farm(101, 0, scenario, "dry, early"))
    keeper.replan(-WARM_UP_D)
    return keeper


def fed(shares: list[float]) -> Goat:
    """Level through the warm-up, then these shares of what she can eat to, day by day."""
    doe = kept(FALL).farm.does[0]
    days = [1.0] * WARM_UP_D + shares
    doe.eaten_kj, doe.need_kj = [1000 * share for share in days], [1000.0] * len(days)
    doe.eaten_kg, doe.room_kg = list(days), [2.0] * len(days)
    return doe


def test_truth_passes_where_three_days_together_do() -> None:
    assert passes(fed([1.0] * 5 + [0.6] + [1.0] * 5), 850) == NEVER
    assert passes(fed([1.0] * 5 + [0.8] * 5), 900) == 6
    assert passes(fed([1.0] * 5 + [0.8] * 5), 850) == 7
    assert passes(fed([1.0] * 10), 900) == NEVER


def test_a_planned_step_is_entered_a_week_ahead_and_eaten_on_its_day() -> None:
    keeper = kept(TO_75)
    before = keeper.plan.grams("pen", "morning", "lot1", ENTERED)
    steps_to(0.75)(keeper, ENTERED)
    assert keeper.plan.grams("pen", "morning", "lot1", ENTERED + AHEAD_D - 1) == before
    assert abs(keeper.plan.grams("pen", "morning", "lot1", ENTERED + AHEAD_D) - 0.75 * before) <= 5
    entered = [event for event in keeper.log.events if event["kind"] == "ration"][-1]
    assert entered["on"] < entered["data"]["steps"][0]["on"]


def test_a_fall_is_entered_each_day_for_that_day() -> None:
    keeper = kept(FALL)
    falls(keeper, 0)
    level = keeper.plan.grams("pen", "morning", "lot1", 0)
    falls(keeper, 20)
    assert abs(keeper.plan.grams("pen", "morning", "lot1", 20) / level - 0.80) < 0.05
    assert keeper.plan.grams("pen", "morning", "lot1", 19) == level


def test_before_counts_as_plus_and_a_step_has_to_be_named_before_its_day() -> None:
    leads = [Lead(TO_75, "first", named, "energy_short", 10, 12, 13) for named in (5, 10, NEVER)]
    row = next(line for line in lead_table(leads).splitlines() if line.startswith("step to 75 %, first"))
    assert row.split()[5:10] == ["3", "1", "0", "+4", "+6"]
    assert "2 /   3" in row
    assert "1 /   3" in row
