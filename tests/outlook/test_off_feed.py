"""The off-feed grid, the recheck clock and what a look does to a case. The grid is common practice, no source."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import evaluate
from herd.state.fold import fold
from tests.support.flat_doe import TODAY, result
from tests.support.log import Log
from tests.support.outlooks import book, branch, outlook

HOUR_MS = 3_600_000
SOON = {"early": shift(TODAY, 10), "mid": shift(TODAY, 14), "late": shift(TODAY, 18), "printed": shift(TODAY, 14)}
LATER = {"early": shift(TODAY, 45), "mid": shift(TODAY, 50), "late": shift(TODAY, 55), "printed": shift(TODAY, 50)}
KIDDED: dict[str, Any] = {"fresh": (5, 8), "peak": (60, 9), "milk": (120, 9)}
CARRYING = {
    "early": (branch(gest=60), SOON),
    "late": (branch(gest=105), LATER),
    "last_weeks": (branch(gest=130), SOON),
    "labour": (branch(gest=146, phase=7), SOON),
}


def doe_at(stage: str) -> tuple[Log, dict[str, Any]]:
    """Fern at a stage, and what her outlook has to be for it."""
    log = Log()
    log.record("doe", "fern", name="Fern", size="standard", **({"sex": "buck"} if stage == "buck" else {}))
    log.pen("p", "fern")
    basis = dict.fromkeys(("bred", "check", "dried", "kidded", "weight"), "")
    if stage in CARRYING:
        log.add(
            "bred", "fern", {"from_on": "2026-09-01", "to_on": "2026-09-01", "how": "hand", "buck": ""}, "2026-09-01"
        )
        made, due = CARRYING[stage]
        # day 60 is early whatever her dates say, so they are far off too
        due = {**LATER, "early": shift(TODAY, 80)} if stage == "early" else due
        return log, {"branches": {"as_is": made}, "due": due, "basis": {**basis, "bred": "2026-09-01/2026-09-01"}}
    if stage in KIDDED:
        since, phase = KIDDED[stage]
        on = shift(TODAY, -since)
        log.add("kidded", "fern", {"born": 2, "alive": 2}, on)
        return log, {
            "branches": {"as_is": branch(gest=-1, phase=phase, lane=0)},
            "due": None,
            "basis": {**basis, "kidded": on},
        }
    phase = 10 if stage == "doeling" else 0
    return log, {"branches": {"as_is": branch(gest=-1, phase=phase, lane=3)}, "due": None, "basis": basis}


def judged(log: Log, over: dict[str, Any]) -> dict[str, Any]:
    return result(log, **over)


WATCH, NOW, VET, AT_ONCE = "watch", "now", "vet_today", "vet_now"
CODES = {WATCH: "off_feed_watch", NOW: "off_feed_now", VET: "off_feed_vet", AT_ONCE: "off_feed_vet"}
GRID = [
    ("early", "left_some", WATCH, 12),
    ("early", "refused", WATCH, 12),
    ("early", "not_up", AT_ONCE, 1),
    ("late", "left_some", WATCH, 4),
    ("late", "slow", WATCH, 4),
    ("late", "refused", NOW, 4),
    ("late", "not_up", AT_ONCE, 1),
    ("last_weeks", "left_some", NOW, 4),
    ("last_weeks", "slow", NOW, 4),
    ("last_weeks", "refused", VET, 4),
    ("last_weeks", "not_up", AT_ONCE, 1),
    ("labour", "left_some", NOW, 4),
    ("labour", "refused", VET, 4),
    ("labour", "not_up", AT_ONCE, 1),
    ("fresh", "left_some", NOW, 4),
    ("fresh", "slow", NOW, 4),
    ("fresh", "refused", VET, 4),
    ("fresh", "not_up", AT_ONCE, 1),
    ("peak", "left_some", WATCH, 12),
    ("peak", "refused", NOW, 12),
    ("peak", "not_up", AT_ONCE, 1),
    ("milk", "left_some", WATCH, 12),
    ("milk", "refused", NOW, 12),
    ("milk", "not_up", AT_ONCE, 1),
    ("open", "left_some", WATCH, 12),
    ("open", "not_up", AT_ONCE, 1),
    ("doeling", "slow", WATCH, 12),
    ("doeling", "not_up", AT_ONCE, 1),
    ("buck", "left_some", NOW, 1),
    ("buck", "refused", NOW, 1),
    ("buck", "not_up", AT_ONCE, 1),
]


@pytest.mark.parametrize(("stage", "how", "urgency", "hours"), GRID)
def test_the_grid(stage: str, how: str, urgency: str, hours: int) -> None:
    log, over = doe_at(stage)
    seen = log.intake("fern", TODAY, "morning", how, 30)
    said = judged(log, over)
    args = said["off_feed"]["args"]
    assert (args["stage"], args["urgency"], said["off_feed"]["code"]) == (stage, urgency, CODES[urgency])
    happened = next(one["happened"] for one in log.events if one["id"] == seen)
    assert args["recheck_ms"] == happened + hours * HOUR_MS
    assert said["down"] == (how == "not_up")
    assert (args["ev"], args["vet_ms"], said["off_feed"]["looked"]) == (seen, 0, None)


def test_hours_until_the_next_look_are_herd_rules() -> None:
    log, over = doe_at("fresh")
    log.intake("fern", TODAY, "morning", "left_some", 30)
    looks = {"fern": outlook("fern", TODAY, over["branches"], due=None, basis=over["basis"])}
    said = evaluate(fold(log.events), looks, book(recheck_h_close=2), TODAY)["does"]["fern"]["off_feed"]["args"]
    assert said["recheck_ms"] - said["since_ms"] == 2 * HOUR_MS


def risky(log: Log, what: str) -> None:
    if what == "three kids":
        log.add("preg_check", "fern", {"result": "pregnant", "kids": 3, "how": "scan"}, "2026-10-20")
    elif what == "fat":
        log.score("fern", shift(TODAY, -10), 400)
    elif what == "old":
        log.record("doe", "fern", born_on="2018-01-01")
    elif what == "many kiddings":
        log.record("doe", "fern", kiddings_before=7)
    elif what == "history":
        log.record("doe", "fern", had_toxemia=True)


@pytest.mark.parametrize("what", ["three kids", "fat", "old", "many kiddings", "history"])
def test_a_refusal_in_the_last_weeks_is_for_this_hour_where_much_is_against_her(what: str) -> None:
    log, over = doe_at("last_weeks")
    log.intake("fern", TODAY, "morning", "refused")
    assert judged(log, over)["off_feed"]["args"]["urgency"] == VET
    risky(log, what)
    assert judged(log, over)["off_feed"]["args"]["urgency"] == AT_ONCE


@pytest.mark.parametrize(
    ("feeds", "what"),
    [(("barley",), "grain"), (("hay",), "hay"), (("barley", "hay"), "all"), (("",), "all"), (("nobody_knows",), "")],
)
def test_what_she_left_goes_by_the_class_of_the_feed(feeds: tuple[str, ...], what: str) -> None:
    log, over = doe_at("late")
    for feed in feeds:
        log.add("intake", "fern", {"how": "refused", "left_pct": 0, "feed": feed, "fed": ""}, TODAY, "morning")
    args = judged(log, over)["off_feed"]["args"]
    assert (args["what"], args["meals"]) == (what, 1)


def test_of_one_meal_the_worst_that_was_seen_is_said() -> None:
    log, over = doe_at("late")
    log.add("intake", "fern", {"how": "refused", "left_pct": 0, "feed": "barley", "fed": ""}, TODAY, "morning")
    log.add("intake", "fern", {"how": "left_some", "left_pct": 20, "feed": "hay", "fed": ""}, TODAY, "morning")
    args = judged(log, over)["off_feed"]["args"]
    assert (args["how"], args["left_pm"], args["what"]) == ("refused", 1000, "all")


def look(log: Log, result: str, slot: str = "midday", on: str = TODAY, **more: str) -> str:
    data = {"of": "", "new_feed": "", "water_bad": "", "bullied": "", "suspect": "", **more, "result": result}
    return log.add("triage", "fern", data, on, slot)


def test_a_look_that_found_her_the_same_starts_the_clock_again_one_step_louder() -> None:
    log, over = doe_at("last_weeks")
    log.intake("fern", TODAY, "morning", "left_some", 30)
    mark = look(log, "same", "midday", bullied="yes")
    said = judged(log, over)["off_feed"]
    looked_at = log.events[-1]["happened"]
    assert (said["args"]["urgency"], said["args"]["recheck_ms"]) == (VET, looked_at + 4 * HOUR_MS)
    assert (said["looked"]["ev"], said["looked"]["bullied"], said["looked"]["result"]) == (mark, "yes", "same")
    look(log, "same", "evening")
    assert judged(log, over)["off_feed"]["args"]["urgency"] == AT_ONCE


def test_answers_without_a_result_do_not_stop_the_clock() -> None:
    log, over = doe_at("last_weeks")
    log.intake("fern", TODAY, "morning", "left_some", 30)
    before = judged(log, over)["off_feed"]["args"]
    look(log, "", new_feed="no", water_bad="yes")
    said = judged(log, over)["off_feed"]
    assert said["args"] == before
    assert said["looked"]["water_bad"] == "yes"


@pytest.mark.parametrize("close", ["eating", "ate_all"])
def test_eating_closes_a_case(close: str) -> None:
    log, over = doe_at("last_weeks")
    log.intake("fern", TODAY, "morning", "refused")
    look(log, "same")
    if close == "eating":
        look(log, "eating", "evening")
    else:
        log.intake("fern", TODAY, "evening", "ate_all")
    said = judged(log, over)
    assert (said["off_feed"], said["down"]) == (None, False)


def test_worse_calls_the_vet_at_any_stage() -> None:
    log, over = doe_at("early")
    log.intake("fern", TODAY, "morning", "left_some", 30)
    look(log, "worse")
    assert judged(log, over)["off_feed"]["code"] == "off_feed_vet"


def test_a_case_whose_vet_was_called_stays_open_and_quieter_until_she_is_worse() -> None:
    log, over = doe_at("last_weeks")
    log.intake("fern", TODAY, "morning", "refused")
    look(log, "vet_called")
    called_at = log.events[-1]["happened"]
    said = judged(log, over)["off_feed"]
    assert (said["code"], said["args"]["urgency"], said["args"]["vet_ms"]) == ("off_feed_now", "called", called_at)
    look(log, "worse", "evening")
    said = judged(log, over)["off_feed"]
    assert (said["code"], said["args"]["vet_ms"]) == ("off_feed_vet", 0)


def test_a_case_somebody_looks_after_is_there_the_next_days_and_all_as_planned_does_not_close_it() -> None:
    log, over = doe_at("last_weeks")
    log.intake("fern", shift(TODAY, -3), "morning", "left_some", 20)
    assert judged(log, over)["off_feed"] is None
    look(log, "vet_called", on=shift(TODAY, -3))
    log.fed("p", TODAY, "morning", ("fern", "hay", 500))
    assert judged(log, over)["off_feed"]["args"]["urgency"] == "called"


def test_a_later_clean_feeding_closes_a_left_meal_nobody_looked_at() -> None:
    log, over = doe_at("last_weeks")
    log.intake("fern", shift(TODAY, -1), "evening", "left_some", 20)
    assert judged(log, over)["off_feed"]
    log.fed("p", TODAY, "morning", ("fern", "hay", 500))
    assert judged(log, over)["off_feed"] is None


@pytest.mark.parametrize(("stage", "open_still"), [("last_weeks", True), ("fresh", True), ("early", False)])
def test_near_kidding_a_refused_meal_is_not_over_because_days_go_by_or_more_is_put_before_her(
    stage: str, open_still: bool
) -> None:
    log, over = doe_at(stage)
    log.intake("fern", shift(TODAY, -2), "morning", "refused")
    log.fed("p", TODAY, "morning", ("fern", "hay", 500))
    assert (judged(log, over)["off_feed"] is not None) is open_still
    log.intake("fern", TODAY, "morning", "ate_all")
    assert judged(log, over)["off_feed"] is None


def test_a_doe_found_down_without_a_left_meal_is_a_case() -> None:
    log, over = doe_at("early")
    look(log, "down")
    said = judged(log, over)
    assert (said["down"], said["off_feed"]["code"], said["off_feed"]["args"]["how"]) == (True, "off_feed_vet", "not_up")


def test_up_again_and_slow_is_not_down() -> None:
    log, over = doe_at("last_weeks")
    log.intake("fern", TODAY, "morning", "not_up")
    log.intake("fern", TODAY, "evening", "slow")
    said = judged(log, over)
    assert (said["down"], said["off_feed"]["args"]["how"], said["off_feed"]["code"]) == (False, "slow", "off_feed_now")
