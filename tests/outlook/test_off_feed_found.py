"""What is found on a doe off her feed, and what ends her case. Judgement and common practice, no source."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from tests.outlook.test_off_feed import AT_ONCE, NOW, VET, WATCH, doe_at, judged
from tests.support.flat_doe import TODAY
from tests.support.log import Log


def check(log: Log, on: str = TODAY, **seen: Any) -> str:
    looks = {"cud": "", "dung": "", "legs": "", "eyes": 0, "udder": "", "belly": "", **seen}
    return log.add("checkup", "fern", {"temp_c_x10": 0, "bhb_x10": 0, "urine": "", **looks}, on, "midday", v=2)


@pytest.mark.parametrize(
    ("found", "urgency"),
    [
        ({"cud": "chewing", "dung": "normal"}, WATCH),
        ({"cud": "none"}, NOW),
        ({"dung": "none"}, NOW),
        ({"cud": "none", "dung": "none"}, VET),
        ({"belly": "tight"}, AT_ONCE),
        ({"udder": "cold"}, AT_ONCE),
    ],
)
def test_what_cannot_be_waited_out_raises_the_urgency(found: dict[str, str], urgency: str) -> None:
    log, over = doe_at("open")
    log.intake("fern", TODAY, "morning", "left_some", 30)
    check(log, **found)
    args = judged(log, over)["off_feed"]["args"]
    assert args["urgency"] == urgency
    check(log, cud="chewing", dung="normal", belly="fine", udder="fine")
    assert judged(log, over)["off_feed"]["args"]["urgency"] == WATCH


def test_what_was_seen_before_she_left_it_does_not_count() -> None:
    log, over = doe_at("open")
    check(log, shift(TODAY, -1), cud="none")
    log.intake("fern", TODAY, "morning", "left_some", 30)
    assert judged(log, over)["off_feed"]["args"]["urgency"] == WATCH


@pytest.mark.parametrize(
    ("found", "code"),
    [
        ({"belly": "tight"}, "belly_vet"),
        ({"udder": "cold"}, "udder_vet"),
        ({"udder": "hot"}, "udder_watch"),
        ({"udder": "clots"}, "udder_watch"),
        ({"belly": "tight", "udder": "hot"}, "belly_vet"),
    ],
)
def test_a_tight_side_and_a_bad_udder_speak_until_somebody_finds_better(found: dict[str, str], code: str) -> None:
    log, over = doe_at("milk")
    check(log, shift(TODAY, -1), **found)
    assert judged(log, over)["prompt"]["code"] == code
    check(log, belly="fine", udder="fine")
    prompt = judged(log, over)["prompt"]
    assert prompt is None or prompt["code"] != code


def test_what_was_seen_two_days_ago_is_not_said_again() -> None:
    log, over = doe_at("milk")
    check(log, shift(TODAY, -2), belly="tight")
    assert judged(log, over)["checkup"] is None


def test_all_eating_from_a_phone_that_has_not_heard_closes_no_emergency() -> None:
    log, over = doe_at("late")
    seen = log.intake("fern", TODAY, "morning", "not_up")
    log.add("intake", "fern", {"how": "ate_all", "left_pct": 0, "feed": "", "fed": ""}, TODAY, "evening", author="bea")
    said = judged(log, over)
    assert (said["down"], said["off_feed"]["args"]["urgency"]) == (True, AT_ONCE)
    log.add(
        "triage",
        "fern",
        {"of": seen, "new_feed": "", "water_bad": "", "bullied": "", "suspect": "", "result": "eating"},
        TODAY,
        "late",
    )
    assert judged(log, over)["off_feed"] is None


@pytest.mark.parametrize(
    ("slot", "author", "closes"), [("morning", "ada", True), ("morning", "bea", False), ("evening", "bea", True)]
)
def test_two_who_differ_about_one_meal_leave_it_open(slot: str, author: str, closes: bool) -> None:
    log, over = doe_at("late")
    log.intake("fern", TODAY, "morning", "left_some", 30)
    log.add("intake", "fern", {"how": "ate_all", "left_pct": 0, "feed": "", "fed": ""}, TODAY, slot, author=author)
    assert (judged(log, over)["off_feed"] is None) == closes
