"""Off feed in the last four weeks and three weeks fresh: who must hear the vet this hour, and who must not."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from tests.outlook.test_off_feed import AT_ONCE, CODES, NOW, VET, WATCH, doe_at, judged, look
from tests.outlook.test_off_feed_found import check
from tests.support.flat_doe import TODAY
from tests.support.log import Log

CLOSE = ("last_weeks", "labour", "fresh")
AWAY = ("early", "milk", "open")


def urgency(log: Log, over: dict[str, Any]) -> str:
    args = judged(log, over)["off_feed"]["args"]
    return str(args["urgency"])


@pytest.mark.parametrize("stage", CLOSE)
@pytest.mark.parametrize(
    ("first", "second", "said"),
    [("left_some", "left_some", AT_ONCE), ("refused", "left_some", AT_ONCE), ("slow", "slow", NOW)],
)
def test_a_second_left_meal_is_for_this_hour(stage: str, first: str, second: str, said: str) -> None:
    log, over = doe_at(stage)
    log.intake("fern", TODAY, "morning", first, 30)
    log.intake("fern", TODAY, "evening", second, 30)
    assert urgency(log, over) == said


@pytest.mark.parametrize("stage", AWAY)
def test_away_from_kidding_a_second_left_meal_is_looked_at_now(stage: str) -> None:
    log, over = doe_at(stage)
    log.intake("fern", TODAY, "morning", "left_some", 30)
    log.intake("fern", TODAY, "evening", "left_some", 30)
    assert urgency(log, over) == NOW


@pytest.mark.parametrize("stage", CLOSE)
@pytest.mark.parametrize(("left_pct", "said"), [(60, NOW), (70, AT_ONCE), (90, AT_ONCE)])
def test_most_of_a_meal_left_is_for_this_hour(stage: str, left_pct: int, said: str) -> None:
    log, over = doe_at(stage)
    log.intake("fern", TODAY, "morning", "left_some", left_pct)
    assert urgency(log, over) == said


@pytest.mark.parametrize(("stage", "said"), [*((one, AT_ONCE) for one in CLOSE), *((one, NOW) for one in AWAY)])
def test_no_cud_at_rest_is_for_this_hour(stage: str, said: str) -> None:
    log, over = doe_at(stage)
    log.intake("fern", TODAY, "morning", "left_some", 20)
    check(log, cud="none")
    assert urgency(log, over) == said


def told(log: Log, mark: str, left: str) -> None:
    look(log, "", of=mark, left=left)


@pytest.mark.parametrize("stage", CLOSE)
@pytest.mark.parametrize(
    ("how", "left", "what", "said"),
    [
        ("refused", "grain", "grain", VET),
        ("refused", "both", "all", AT_ONCE),
        ("refused", "hay", "hay", VET),
        ("left_some", "grain", "grain", NOW),
        ("left_some", "hay", "hay", NOW),
    ],
)
def test_what_she_left_is_kept_grain_apart_from_hay(stage: str, how: str, left: str, what: str, said: str) -> None:
    log, over = doe_at(stage)
    told(log, log.intake("fern", TODAY, "morning", how, 30), left)
    args = judged(log, over)["off_feed"]["args"]
    assert (args["what"], args["urgency"]) == (what, said)


def test_an_answer_about_an_older_meal_says_nothing_of_this_one() -> None:
    log, over = doe_at("milk")
    told(log, log.intake("fern", shift(TODAY, -1), "evening", "left_some", 30), "grain")
    log.intake("fern", TODAY, "morning", "left_some", 30)
    assert judged(log, over)["off_feed"]["args"]["what"] == ""


@pytest.mark.parametrize("stage", ["early", "milk", "open", "doeling", "last_weeks", "buck"])
def test_down_is_one_word_and_the_vet_now(stage: str) -> None:
    """Her ketones would say "get her eating", a bag was opened, and it is all one thing: she is down."""
    log, over = doe_at(stage)
    log.intake("fern", TODAY, "morning", "not_up")
    log.add("checkup", "fern", {"temp_c_x10": 0, "bhb_x10": 10, "urine": ""}, TODAY, "midday")
    said = judged(log, over)
    assert (said["prompt"]["code"], said["prompt"]["args"]["urgency"]) == (CODES[AT_ONCE], AT_ONCE)
    assert said["prompt"]["args"]["rests"] == ["down"]


def test_a_doe_that_is_up_still_hears_of_her_ketones() -> None:
    log, over = doe_at("last_weeks")
    log.add("checkup", "fern", {"temp_c_x10": 0, "bhb_x10": 10, "urine": ""}, TODAY, "midday")
    assert judged(log, over)["prompt"]["code"] == "ketones_act"


@pytest.mark.parametrize(
    ("stage", "readings", "take"),
    [
        ("last_weeks", {}, "temp_ketones"),
        ("last_weeks", {"temp_c_x10": 390}, "ketones"),
        ("last_weeks", {"bhb_x10": 5}, "temp"),
        ("fresh", {"temp_c_x10": 390, "urine": "none"}, ""),
        ("early", {}, "temp"),
        ("buck", {}, "temp"),
    ],
)
def test_readings_are_asked_for_until_they_are_saved(stage: str, readings: dict[str, Any], take: str) -> None:
    log, over = doe_at(stage)
    log.intake("fern", TODAY, "morning", "left_some", 20)
    if readings:
        data = {"temp_c_x10": 0, "bhb_x10": 0, "urine": "", **readings}
        log.add("checkup", "fern", data, TODAY, "midday")
    assert judged(log, over)["off_feed"]["args"]["take"] == take


def test_readings_from_before_she_left_it_are_taken_again() -> None:
    log, over = doe_at("last_weeks")
    log.add("checkup", "fern", {"temp_c_x10": 390, "bhb_x10": 5, "urine": ""}, shift(TODAY, -1), "midday")
    log.intake("fern", TODAY, "morning", "left_some", 20)
    assert judged(log, over)["off_feed"]["args"]["take"] == "temp_ketones"


@pytest.mark.parametrize(
    ("stage", "x10", "code"),
    [("fresh", 400, "temperature_vet"), ("fresh", 396, ""), ("peak", 400, "temperature_watch")],
)
def test_a_fever_in_a_fresh_doe_is_for_the_vet_today(stage: str, x10: int, code: str) -> None:
    log, over = doe_at(stage)
    log.add("checkup", "fern", {"temp_c_x10": x10, "bhb_x10": 0, "urine": ""}, TODAY, "morning")
    said = judged(log, over)["checkup"]
    assert (said["code"] if said else "") == code


@pytest.mark.parametrize("stage", ["fresh", "milk", "open"])
def test_a_cold_udder_is_the_gravest_fresh_or_drying(stage: str) -> None:
    log, over = doe_at(stage)
    check(log, udder="cold")
    assert judged(log, over)["prompt"]["code"] == "udder_vet"
    check(log, udder="hot")
    assert judged(log, over)["prompt"]["code"] == "udder_watch"


def test_a_doe_ten_weeks_fresh_is_judged_by_the_usual_grid() -> None:
    log, over = doe_at("peak")
    log.intake("fern", TODAY, "morning", "left_some", 80)
    assert urgency(log, over) == WATCH


def test_to_three_weeks_fresh_whatever_phase_was_worked_out() -> None:
    log, over = doe_at("peak")
    log.add("kidded", "fern", {"born": 2, "alive": 2}, shift(TODAY, -20))
    over["basis"]["kidded"] = shift(TODAY, -20)
    log.intake("fern", TODAY, "morning", "refused")
    args = judged(log, over)["off_feed"]["args"]
    assert (args["stage"], args["urgency"]) == ("fresh", VET)
