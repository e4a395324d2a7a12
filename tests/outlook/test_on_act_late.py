"""Late, an act in her plan answers no more than it can: a cut undone is no answer to thin, nor to a score that fell."""

from __future__ import annotations

import pytest

from herd.outlook.days import shift
from tests.support.flat_doe import TODAY, days, late, one_doe, result
from tests.support.log import Log


def on_act(code: str, ago: int = 0) -> Log:
    """From 700 g of hay to 1,300 so many days ago: 9,360 kJ of the 13,000 of the full demand."""
    log, on = one_doe(700, own=True, confirm=0), shift(TODAY, -ago)
    promised = {"act": code, "of": "me", "from_pm": 388, "to_pm": 720, "by_on": on}
    base = next(event["hlc"] for event in log.events if event["kind"] == "ration")
    plan = {"to": "doe", "slot": "morning", "feed": "hay", "steps": [{"on": on, "g": 1300}], "base": base}
    log.add("ration", "fern", {**plan, **promised}, on)
    for day in days(20):
        log.fed("p", day, "morning", ("fern", "hay", 700 if day < on else 1300))
    return log


def word(log: Log) -> str:
    prompt = result(log, late())["prompt"]
    return prompt["code"] if prompt else ""


@pytest.mark.parametrize(("code", "said"), [("keep_amount", True), ("give_back", True), ("fill_feeder", False)])
def test_what_only_undoes_a_cut_is_no_answer_to_a_thin_doe(code: str, said: bool) -> None:
    log = on_act(code)
    log.score("fern", shift(TODAY, -1), 200)
    assert (word(log) in ("condition_thin_late", "energy_short")) is said


@pytest.mark.parametrize(("scored", "held"), [(1, False), (4, True)])
def test_late_a_score_that_fell_since_is_heard_in_its_first_week(scored: int, held: bool) -> None:
    log = on_act("fill_feeder", ago=3)
    log.score("fern", shift(TODAY, -30), 300)
    log.score("fern", shift(TODAY, -scored), 200)
    assert bool(result(log, late())["on_acts"]) is held
    # early one of its first three weeks is no answer yet
    assert result(log)["on_acts"]
