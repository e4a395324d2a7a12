"""A kid's first hours and its dam's: the numbers we go by beside what the sources say, each with its own.

`first_hours.csv` is carried over from what was READ (READ-2: a page read second hand); none of it is made by our code.
Where sources differ ours has to be on the careful side of each. What the numbers then do is tried by the clock.
"""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Callable
from operator import eq, ge, le
from pathlib import Path

import pytest

from tests.outlook.test_afterbirth import out
from tests.outlook.test_kidding_safety import WELL, first_feed, kidded, look, said, waiting
from tests.support.paths import ROOT

NUMBERS = tomllib.loads((ROOT / "herd/outlook/tables/numbers.toml").read_text(encoding="utf-8"))
OURS_IS: dict[str, Callable[[float, float], bool]] = {"equals": eq, "at_least": ge, "at_most": le}
FEWEST, FEEDS_A_DAY = 20, 4
with (Path(__file__).parent / "first_hours.csv").open(newline="", encoding="utf-8") as lines:
    ROWS = list(csv.DictReader(lines))


def ours(number: str) -> float:
    return float(NUMBERS[number]["value"])


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_ours_is_on_the_careful_side_of_what_was_read(row: dict[str, str]) -> None:
    assert OURS_IS[row["ours_is"]](ours(row["number"]), float(row["value"]))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_a_row_says_where_it_is_from(row: dict[str, str]) -> None:
    assert len(row["source"]) > 10
    assert row["where"]
    assert row["units"]
    assert row["standing"] in ("READ", "READ-2", "SYNTHESIS")


def test_there_are_rows_and_each_has_a_name_of_its_own() -> None:
    assert len({row["id"] for row in ROWS}) == len(ROWS) >= FEWEST


def test_four_feeds_of_ours_are_a_days_colostrum() -> None:
    """10 to 20 % of birth weight in a day over four feeds and more: quoted, READ; 10 % at least: READ-2."""
    assert 100 <= FEEDS_A_DAY * ours("colostrum_ml_kg") <= 200


@pytest.mark.parametrize(("hours", "may"), [(0.5, True), (2, True), (6, True), (12, True), (23, True), (25, False)])
def test_an_amount_is_shown_of_a_warm_kid_as_long_as_its_gut_is_open(hours: float, may: bool) -> None:
    night = kidded(1, 1)
    look(night, hours, 1, mouth="warm", swallows="yes")
    assert first_feed(night, hours + 0.1) == [ours("colostrum_ml_kg") if may else 0]


@pytest.mark.parametrize(
    ("x10", "cold"), [(365, True), (370, True), (372, True), (377, True), (378, False), (387, False)]
)
def test_a_kid_is_cold_by_the_careful_threshold(x10: int, cold: bool) -> None:
    night = kidded(1, 1)
    look(night, 0.5, 1, rectal_c_x10=x10, swallows="yes")
    assert (said(night, 0.6) == "kid_cold") is cold
    assert (first_feed(night, 0.6) == [0]) is cold


@pytest.mark.parametrize(
    ("hours", "code"), [(1.9, ""), (2, "placenta_look"), (11.9, "placenta_look"), (12, "placenta_vet")]
)
def test_the_afterbirth_is_asked_after_by_the_hours_that_were_read(hours: float, code: str) -> None:
    heard = said(out(), hours)
    assert heard == code if code else not heard.startswith("placenta_look")


def test_the_first_look_comes_before_colostrum_is_late() -> None:
    night = kidded()
    look(night, 0.5, 1, **WELL)
    assert waiting(night, 0.6)["dry"] == [2]
    assert said(night, ours("colostrum_by_h")) == "kid_no_colostrum"
