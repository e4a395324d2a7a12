"""Who is looked at every day because she leaves nothing to read, and what was said of her today."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import evaluate
from herd.state.fold import fold
from tests.support.flat_doe import TODAY, one_doe, result
from tests.support.log import Log
from tests.support.outlooks import book, branch, outlook


def due_in(early: int) -> dict[str, str]:
    return {name: shift(TODAY, early + k) for k, name in enumerate(("early", "mid", "late", "printed"))}


@pytest.mark.parametrize(("early", "daily"), [(43, False), (42, True), (3, True), (-4, True)])
def test_in_her_last_six_weeks_a_doe_without_grain_is_looked_at_daily(early: int, daily: bool) -> None:
    assert result(one_doe(), {"as_is": branch(gest=110)}, due=due_in(early))["daily"] is daily


def test_the_weeks_are_a_herd_rule() -> None:
    looks = {"fern": outlook("fern", TODAY, due=due_in(50))}
    view = fold(one_doe().events)
    assert not evaluate(view, looks, book(), TODAY)["does"]["fern"]["daily"]
    assert evaluate(view, looks, book(daily_from_d=56), TODAY)["does"]["fern"]["daily"]


@pytest.mark.parametrize("feed", ["barley", "sprouts"])
def test_grain_on_the_stand_can_be_read_and_grain_that_is_out_cannot(feed: str) -> None:
    log = one_doe()
    log.ration("fern", "evening", feed, ("2026-09-01", 100))
    assert not result(log, due=due_in(20))["daily"]
    log.add("freeze", "fern", {"until_on": shift(TODAY, 2), "grain_out": True, "of": ""}, shift(TODAY, -1))
    assert result(log, due=due_in(20))["daily"]


@pytest.mark.parametrize(
    ("size", "day", "daily"),
    [("mini", 104, False), ("mini", 105, True), ("standard", 107, False), ("standard", 108, True)],
)
def test_without_an_outlook_the_calendar_counts(size: str, day: int, daily: bool) -> None:
    log = Log()
    log.record("doe", "fern", name="Fern", size=size)
    log.add("bred", "fern", bred(day), shift(TODAY, -day))
    assert evaluate(fold(log.events), {}, book(), TODAY)["does"]["fern"]["daily"] is daily


def bred(day: int) -> dict[str, Any]:
    return {"from_on": shift(TODAY, -day), "to_on": shift(TODAY, -day), "how": "hand", "buck": ""}


@pytest.mark.parametrize(("fresh_d", "daily"), [(0, True), (21, True), (22, False)])
def test_a_fresh_doe_is_looked_at_daily_for_three_weeks_whatever_she_gets(fresh_d: int, daily: bool) -> None:
    log = Log()
    log.record("doe", "fern", name="Fern")
    log.record("doe", "dot", name="Dot")
    log.add("bred", "fern", bred(140), shift(TODAY, -fresh_d - 1))
    log.add("kidded", "fern", {"born": 1, "alive": 1}, shift(TODAY, -fresh_d))
    log.ration("fern", "morning", "barley", ("2026-09-01", 200))
    does = evaluate(fold(log.events), {}, book(), TODAY)["does"]
    assert (does["fern"]["daily"], does["dot"]["daily"]) == (daily, False)


def test_the_slots_in_which_somebody_said_how_she_was() -> None:
    log = one_doe()
    log.intake("fern", TODAY, "evening", "slow")
    log.intake("fern", TODAY, "morning", "ate_all")
    log.intake("fern", shift(TODAY, -1), "late", "ate_all")
    log.intake("p", TODAY, "midday", "ate_all")
    assert result(log)["tapped"] == ["morning", "evening"]
