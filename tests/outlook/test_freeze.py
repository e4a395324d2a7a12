"""Grain held or out: planned raises do not come, nobody calls it a cut, and grain that stays out is asked about."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay, evaluate
from herd.state.fold import fold
from tests.support.flat_doe import TODAY, days, late, one_doe, result
from tests.support.log import Log
from tests.support.outlooks import book, branch, outlook

DUE = {"early": shift(TODAY, 10), "mid": shift(TODAY, 14), "late": shift(TODAY, 18), "printed": shift(TODAY, 14)}


def on_grain(*steps: tuple[int, int]) -> Log:
    """Hay as always, and barley on the stand in the evening, by days from today."""
    log = one_doe()
    log.score("fern", shift(TODAY, -2), 300)
    log.ration("fern", "evening", "barley", *((shift(TODAY, day), g) for day, g in steps))
    return log


def freeze(log: Log, since: int, until: int | None, out: bool = False) -> str:
    until_on = "" if until is None else shift(TODAY, until)
    return log.add("freeze", "fern", {"until_on": until_on, "grain_out": out, "of": ""}, shift(TODAY, since))


def farm_of(log: Log, **over: Any) -> FarmDay:
    return FarmDay(fold(log.events), {"fern": outlook("fern", TODAY, **over)}, book(), TODAY)


def planned(log: Log, *on: int) -> list[int]:
    farm = farm_of(log)
    return [sum(g for _, g in farm.ask("subject_lines", "fern", shift(TODAY, day), "evening")) for day in on]


STEPS = ((-10, 50), (-1, 100), (2, 150), (5, 200))


@pytest.mark.parametrize(
    ("since", "until", "out", "want"),
    [
        (None, None, False, [50, 100, 100, 150, 150, 150, 200]),
        # the amount of the day it began, to its last day; then the raises, as many days later as it lasted
        (-2, 3, False, [50, 50, 50, 50, 50, 50, 100]),
        # a raise already in force when it began stays
        (0, 3, False, [50, 100, 100, 100, 100, 100, 100]),
        (0, 3, True, [50, 100, 0, 0, 0, 100, 100]),
    ],
)
def test_a_freeze_holds_raises_and_takes_grain_out(
    since: int | None, until: int | None, out: bool, want: list[int]
) -> None:
    log = on_grain(*STEPS)
    if since is not None:
        freeze(log, since, until, out)
    assert planned(log, -3, -1, 0, 2, 3, 4, 5) == want


def test_a_planned_fall_comes_all_the_same_and_hay_is_never_held() -> None:
    log = on_grain((-10, 100), (1, 60))
    log.ration("fern", "morning", "hay", (shift(TODAY, 1), 1800), base=log.events[4]["hlc"])
    freeze(log, -1, 5)
    assert planned(log, 0, 1) == [100, 60]
    assert farm_of(log).ask("subject_lines", "fern", shift(TODAY, 1), "morning") == [["hay", 1800]]


def test_a_freeze_prolonged_from_day_to_day_lets_no_raise_through() -> None:
    log = on_grain(*STEPS)
    freeze(log, -2, -1)
    freeze(log, 0, 2)
    assert planned(log, -1, 0, 2) == [50, 50, 50]


def test_a_lifted_freeze_lets_the_plan_go_on_from_where_it_stood() -> None:
    log = on_grain(*STEPS)
    freeze(log, -2, 6)
    freeze(log, 0, None)
    assert planned(log, -1, 0, 1, 2, 3, 4) == [50, 50, 100, 100, 100, 150]


def test_missed_raises_do_not_come_at_once() -> None:
    log = on_grain((-10, 50), (1, 100), (4, 150), (7, 200))
    freeze(log, 0, 7)
    assert planned(log, 7, 8, 9, 12, 15) == [50, 50, 100, 150, 200]
    said = result(log)["prompt"]
    assert said is None or said["code"] != "step_planned_big"


def test_what_is_planned_after_a_freeze_comes_on_its_own_days() -> None:
    log = on_grain((-10, 50), (1, 100))
    freeze(log, -3, -1)
    assert planned(log, 1, 4) == [50, 100]
    log.ration("fern", "evening", "barley", (shift(TODAY, 1), 100), base=log.events[-2]["hlc"])
    assert planned(log, 0, 1) == [50, 100]


def test_an_amount_under_question_is_held_as_well() -> None:
    log = on_grain((-10, 50))
    log.ration("fern", "evening", "barley", (shift(TODAY, -3), 120))
    freeze(log, -1, 3, out=True)
    assert planned(log, 0) == [0]


def test_the_next_step_is_as_many_days_later_as_the_freeze_lasts() -> None:
    log = on_grain((-10, 50), (2, 100))
    freeze(log, 0, 4)
    assert farm_of(log).ask("next_step", "fern", 7) == [shift(TODAY, 7), "barley", 50, 100]
    assert farm_of(on_grain((-10, 50), (2, 100))).ask("next_step", "fern", 7) == [shift(TODAY, 2), "barley", 50, 100]


def test_the_result_says_until_when_by_whom_and_how_many_days_are_left() -> None:
    log = on_grain((-10, 50))
    assert result(log)["freeze"] is None
    freeze(log, -1, 3, out=True)
    kept = {"since": shift(TODAY, -1), "until": shift(TODAY, 3), "grain_out": True, "author": "ada", "days_left": 3}
    assert result(log)["freeze"] == kept
    assert result(log, day=shift(TODAY, 4))["freeze"] is None


def test_grain_out_is_no_cut_of_the_plan_and_no_missed_step() -> None:
    log = one_doe(hay_g=900)
    log.ration("fern", "evening", "barley", ("2026-09-01", 300))
    for on in days(6, shift(TODAY, -2)):
        log.fed("p", on, "evening", ("fern", "barley", 300))
    freeze(log, -1, 4, out=True)
    said = result(log, late())["prompt"]
    assert said is None or said["code"] not in ("net_cut_late", "energy_short", "energy_heading_short")


def near(phase: int) -> dict[str, Any]:
    return {"as_is": branch(gest=130, phase=phase)}


OUT = [
    # phase, freeze (since, until, out), steps, says
    (6, (-2, 3, True), ((-10, 100),), True),
    (6, (-1, 3, True), ((-10, 100),), False),
    (7, (-2, 3, True), ((-10, 100),), True),
    (8, (-2, 3, True), ((-10, 100),), True),
    (5, (-2, 3, True), ((-10, 100),), False),
    (9, (-2, 3, True), ((-10, 100),), False),
    # held at nothing: the first step never came
    (6, (-2, 3, False), ((-1, 50),), True),
    # held at an amount
    (6, (-2, 3, False), ((-10, 50),), False),
    # over, and nothing planned since
    (6, (-9, -5, True), ((-20, 100), (-7, 0)), True),
    (6, (-9, -5, True), ((-20, 100),), False),
    # long over
    (6, (-40, -30, True), ((-60, 100), (-31, 0)), False),
    # no grain ever: nothing was taken out
    (6, (-3, 3, True), (), False),
]


@pytest.mark.parametrize(("phase", "held", "steps", "says"), OUT)
def test_grain_still_out_is_asked_about(
    phase: int, held: tuple[int, int, bool], steps: tuple[tuple[int, int], ...], says: bool
) -> None:
    log = on_grain(*steps) if steps else one_doe()
    freeze(log, *held)
    said = result(log, near(phase), due=DUE)["prompt"]
    assert (said is not None and said["code"] == "frozen_out") == says
    if says and said:
        told = {name: said["args"][name] for name in ("on", "days", "what")}
        what = "first" if steps == ((-1, 50),) else "again"
        assert (said["rank"], told) == (2, {"on": shift(TODAY, held[0]), "days": -held[0], "what": what})


def test_a_lifted_freeze_without_a_ration_is_still_out() -> None:
    log = on_grain((-10, 100), (-3, 0))
    freeze(log, -4, 2, out=True)
    freeze(log, 0, None)
    said = result(log, near(6), due=DUE)["prompt"]
    assert (said["code"], said["args"]["on"]) == ("frozen_out", shift(TODAY, -4))


def test_what_the_herd_rules_would_give_is_no_grain_to_start_again() -> None:
    log = one_doe()
    freeze(log, -4, 2, out=True)
    steps = [{"on": shift(TODAY, -3), "g": 60}]
    assert result(log, near(6), due=DUE, steps=steps)["prompt"] is None
    # fed to her before, though it never stood in a plan
    log.fed("p", shift(TODAY, -6), "evening", ("fern", "barley", 100))
    assert result(log, near(6), due=DUE, steps=steps)["prompt"]["args"]["what"] == "again"


def test_a_refused_meal_comes_before_grain_that_is_out_and_it_is_said_without_an_outlook_too() -> None:
    log = Log()
    log.record("doe", "fern", name="Fern")
    log.add("bred", "fern", {"from_on": shift(TODAY, -130), "to_on": shift(TODAY, -130), "how": "hand", "buck": ""})
    log.ration("fern", "evening", "barley", (shift(TODAY, -20), 100))
    freeze(log, -3, 2, out=True)
    assert evaluate(fold(log.events), {}, book(), TODAY)["does"]["fern"]["prompt"]["code"] == "frozen_out"
    log.intake("fern", TODAY, "morning", "refused")
    assert evaluate(fold(log.events), {}, book(), TODAY)["does"]["fern"]["prompt"]["code"] == "off_feed_vet"
