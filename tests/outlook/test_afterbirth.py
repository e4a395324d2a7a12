"""The afterbirth by its clock, from the last kid on: who must hear it and who must not."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from tests.outlook.test_kidding_safety import HOUR_MS, WELL, Night, afterbirth, heard, kidded, look, said, words
from tests.support.flat_doe import TODAY


def out(told: str = "", told_h: float = 0, timed: bool = True) -> Night:
    """A doe whose kids are well, so that her afterbirth alone is spoken of."""
    night = kidded(timed=timed)
    look(night, 0.5, 1, 2, **WELL)
    for done in (2, 6, 12, 24):
        look(night, done, 1, 2, **WELL)
    if told:
        afterbirth(night, told_h, told)
    return night


def placenta(night: Night) -> dict[str, Any]:
    return next(word for word in words(night) if word["code"].startswith("placenta"))


def test_at_two_hours_without_it_is_another_kid_inside() -> None:
    assert not said(out(), 1.9).startswith("placenta_look")
    prompt = heard(out(), 2)
    assert (prompt["code"], prompt["rank"]) == ("placenta_look", 2)
    assert "afterbirth_two" in prompt["args"]["rests"]


@pytest.mark.parametrize("what", ["hanging", "not_seen"])
def test_twelve_hours_are_the_vets(what: str) -> None:
    assert not said(out(what, 3), 11.9).startswith("placenta_vet")
    prompt = heard(out(what, 3), 12)
    assert (prompt["code"], prompt["rank"], prompt["args"]["why"]) == ("placenta_vet", 1, what)
    assert "afterbirth_twelve" in prompt["args"]["rests"]


def test_the_clock_runs_from_the_last_kid() -> None:
    log, over, at = kidded()
    log.add("signs", "fern", {"seen": ["kid_out"], "absent": []}, TODAY, "late", happened=at + 4 * HOUR_MS)
    night = (log, over, at)
    look(night, 5, 1, 2, 3, **WELL)
    assert said(night, 5.9) != "placenta_look"
    assert said(night, 6) == "placenta_look"


@pytest.mark.parametrize("hours", [2, 12, 20])
def test_passed_ends_it(hours: float) -> None:
    assert not said(out("passed", 1), hours).startswith("placenta")


def test_not_seen_may_have_been_eaten_and_that_is_said() -> None:
    assert "afterbirth_eaten" in heard(out("not_seen", 3), 12)["args"]["rests"]
    assert "afterbirth_eaten" not in heard(out("hanging", 3), 12)["args"]["rests"]


def test_the_vet_who_knows_is_not_called_twice() -> None:
    assert not said(out("vet_told", 12.5), 13).startswith("placenta_vet")


def test_ill_with_it_inside_is_the_vets_before_the_twelve_hours() -> None:
    log, over, at = out("hanging", 1)
    log.add("checkup", "fern", {"temp_c_x10": 404, "bhb_x10": 0, "urine": ""}, TODAY, "late", happened=at + 4 * HOUR_MS)
    ill = placenta((log, over, at))
    assert (ill["args"]["why"], ill["args"]["turns"]) == ("ill", [[at + 2 * HOUR_MS, "placenta_vet"]])
    assert said((log, over, at), 4.1).endswith("_vet")
    assert placenta(out("hanging", 1))["code"] == "placenta_wait"


def test_ill_while_she_still_kids_it_has_not_had_its_time() -> None:
    log, over, at = out()
    checkup = {"temp_c_x10": 404, "bhb_x10": 0, "urine": ""}
    log.add("checkup", "fern", checkup, TODAY, "late", happened=at + HOUR_MS // 4)
    assert not said((log, over, at), 0.3).startswith("placenta")
    assert [code for _, code in placenta((log, over, at))["args"]["turns"]] == ["placenta_vet"]


def test_straining_after_kidding_is_the_vets_before_the_twelve_hours() -> None:
    log, over, at = out("hanging", 1)
    log.add("signs", "fern", {"seen": ["straining"], "absent": []}, TODAY, "late", happened=at + 4 * HOUR_MS)
    prompt = heard((log, over, at), 4.1)
    assert (prompt["code"], prompt["args"]["why"]) == ("labour_vet", "after_kidding")


def test_with_no_hour_written_down_nobody_is_sent_for_unasked() -> None:
    untold = kidded(timed=False)
    look(untold, 0, 1, 2, **WELL)
    assert said(untold, 0.1) == "placenta_look"
    assert said(untold, 12) == "placenta_vet"
    hanging = kidded(timed=False)
    look(hanging, 0, 1, 2, **WELL)
    afterbirth(hanging, 0.1, "hanging")
    assert said(hanging, 0.2) == "placenta_vet"


def test_a_week_on_nothing_is_asked_unless_it_still_hangs() -> None:
    later = shift(TODAY, 7)
    assert not said(kidded(), 168, later).startswith(("placenta", "kid"))
    hanging = kidded()
    afterbirth(hanging, 3, "hanging")
    assert said(hanging, 168, later) == "placenta_vet"
