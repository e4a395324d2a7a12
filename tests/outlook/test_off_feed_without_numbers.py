"""A doe that is down hears of no amounts, and calling the vet needs no score, no outlook and no plan."""

from __future__ import annotations

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import evaluate
from herd.state.fold import fold
from tests.outlook.test_off_feed import SOON, look
from tests.support.flat_doe import TODAY, days, late, one_doe, result
from tests.support.log import Log
from tests.support.outlooks import book, branch, ranks

AMOUNTS = {code for code in ranks() if code.startswith(("grain_", "step", "net_cut", "energy", "calcium", "protein"))}


def test_no_amount_is_spoken_of_for_a_doe_that_is_down() -> None:
    """Short of energy, with a step too big in her plan and her grain out: all of it is silent while she is down."""
    log = one_doe(hay_g=700)
    log.score("fern", shift(TODAY, -2), 200)
    log.ration("fern", "evening", "barley", ("2026-09-01", 0), (shift(TODAY, 2), 900))
    log.add("freeze", "fern", {"until_on": shift(TODAY, 1), "grain_out": True, "of": ""}, shift(TODAY, -5))
    up = {"as_is": branch(gest=130, me_kj=13000, floor_me_kj=9000, phase=6)}
    assert result(log, up, due=SOON)["prompt"]["code"] == "frozen_out"
    log.intake("fern", shift(TODAY, -1), "evening", "not_up")
    down = result(log, up, due=SOON)
    assert (down["down"], down["prompt"]["code"]) == (True, "off_feed_vet")
    # the vet was called: still nothing about amounts
    look(log, "vet_called")
    quiet = result(log, up, due=SOON)
    assert (quiet["down"], quiet["prompt"]["code"]) == (True, "off_feed_now")
    assert quiet["prompt"]["code"] not in AMOUNTS
    assert len(AMOUNTS) > 8


@pytest.mark.parametrize("day", days(3))
def test_calling_the_vet_needs_no_score_no_outlook_and_no_plan(day: str) -> None:
    log = Log()
    log.record("doe", "fern", name="Fern")
    log.intake("fern", day, "morning", "not_up")
    said = evaluate(fold(log.events), {}, book(), day)["does"]["fern"]
    assert (said["standing"], said["prompt"]["code"], said["down"]) == ("no_outlook", "off_feed_vet", True)


def test_a_refusal_near_her_time_calls_the_vet_by_the_calendar_alone() -> None:
    log = Log()
    log.record("doe", "fern", name="Fern")
    log.add("bred", "fern", {"from_on": shift(TODAY, -130), "to_on": shift(TODAY, -130), "how": "hand", "buck": ""})
    log.intake("fern", TODAY, "morning", "refused")
    said = evaluate(fold(log.events), {}, book(), TODAY)["does"]["fern"]["off_feed"]
    assert (said["code"], said["args"]["stage"]) == ("off_feed_vet", "last_weeks")


def test_a_doeling_is_known_by_her_age_where_nothing_was_compiled() -> None:
    log = Log()
    log.record("doe", "fern", name="Fern", born_on=shift(TODAY, -300))
    log.intake("fern", TODAY, "morning", "left_some", 20)
    assert evaluate(fold(log.events), {}, book(), TODAY)["does"]["fern"]["off_feed"]["args"]["stage"] == "doeling"


def test_late_is_late_for_the_flat_branch_too() -> None:
    log = one_doe()
    log.intake("fern", TODAY, "morning", "left_some", 20)
    assert result(log, late())["off_feed"]["args"]["stage"] == "late"
