"""Selenium or copper given twice within the time that counts: said for a fortnight, shown for as long as it counts."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import evaluate
from herd.state.fold import fold
from tests.support.flat_doe import TODAY, one_doe, result
from tests.support.log import Log
from tests.support.outlooks import book, outlook


def given(log: Log, back: int, *carries: str, product: str = "Shot") -> str:
    data: dict[str, Any] = {"product": product, "told": "", "why": "", "who": "vet", "milk_until": "", "meat_until": ""}
    return log.add("treatment", "fern", {**data, "carries": list(carries)}, shift(TODAY, -back))


@pytest.mark.parametrize(
    ("mineral", "first", "doubled"),
    [
        ("selenium", 180, True),
        ("selenium", 181, False),
        ("copper", 181, True),
        ("copper", 365, True),
        ("copper", 366, False),
    ],
)
def test_two_within_its_time_are_doubled(mineral: str, first: int, doubled: bool) -> None:
    log = one_doe()
    given(log, first, mineral)
    given(log, 1, mineral)
    assert (result(log)["doubled"] is not None) is doubled


def test_it_names_the_mineral_and_each_gift() -> None:
    log = one_doe()
    log.score("fern", shift(TODAY, -2), 300)
    bolus = given(log, 40, "copper", product="Bolus")
    given(log, 30, product="Wormer")
    shot = given(log, 2, "selenium", "copper")
    said = result(log)
    rows = [(one["ev"], one["on"], one["product"]) for one in said["doubled"]["given"]]
    assert (said["doubled"]["mineral"], said["doubled"]["within_d"]) == ("copper", 365)
    assert rows == [(bolus, shift(TODAY, -40), "Bolus"), (shot, shift(TODAY, -2), "Shot")]
    assert (said["prompt"]["code"], said["prompt"]["rank"]) == ("mineral_doubled", 3)
    assert said["prompt"]["args"] == {"mineral": "copper", "on": shift(TODAY, -2), "n": 2}


def test_selenium_is_named_first_where_both_are_doubled() -> None:
    log = one_doe()
    given(log, 40, "copper", "selenium")
    given(log, 2, "selenium", "copper")
    assert result(log)["doubled"]["mineral"] == "selenium"


def test_after_a_fortnight_it_is_shown_and_no_longer_said() -> None:
    log = one_doe()
    log.score("fern", shift(TODAY, -2), 300)
    given(log, 40, "copper")
    given(log, 15, "copper")
    said = result(log)
    assert said["doubled"] is not None
    assert said["prompt"] is None or said["prompt"]["code"] != "mineral_doubled"


def test_the_days_are_herd_rules_and_a_gift_taken_back_does_not_count() -> None:
    log = one_doe()
    given(log, 100, "selenium")
    second = given(log, 1, "selenium")
    looks = {"fern": outlook("fern", TODAY)}
    judged = evaluate(fold(log.events), looks, book(selenium_apart_d=60), TODAY)
    assert judged["does"]["fern"]["doubled"] is None
    assert result(log)["doubled"] is not None
    log.add("void", "fern", {"of": second})
    assert result(log)["doubled"] is None
