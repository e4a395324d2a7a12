"""A miniature and a standard doe bred the same day: each task's days beside what the trade says.

`tasks.csv` is the trade's table, READ in the source it names or common practice that nobody published; a blank day is
one it leaves open. `from_dg` and `to_dg` are days of gestation as the table prints them; what is counted back from the
day she is due has `from_due` and `to_due` beside it. None of it is made by our code.
"""

from __future__ import annotations

import csv
import os
import subprocess
import sys
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from herd.outlook.book import compile_book
from herd.outlook.compile import compile_doe
from herd.outlook.evaluate import FarmDay
from herd.outlook.tables import NUMBERS, TASKS
from herd.state.fold import fold
from tests.support.compiled import folded
from tests.support.paths import ROOT

HERE = Path(__file__).parent
SOURCES = tomllib.loads((ROOT / "herd/science/sources.toml").read_text(encoding="utf-8"))
BRED_ON = "2026-10-01"
WHEN = ("bred", "settled", "due")
SIZES = {"standard": "alpine", "mini": "nigerian_dwarf"}
# The trade counts from the day she is due, we from the first day she may kid: two in a hundred are sooner than that.
SOONER_D = 9
with (HERE / "tasks.csv").open(newline="", encoding="utf-8") as lines:
    ROWS = list(csv.DictReader(lines))
Days = dict[tuple[str, str], tuple[int, int]]


def doe(size: str, bred_on: str) -> dict[str, Any]:
    bred = {"from": bred_on, "to": bred_on, "on": bred_on, "how": "hand", "ev": "b"}
    kidded = {"on": f"{int(bred_on[:4]) - 1}-12-20", "born": 2, "alive": 2, "timed": False, "ev": "k", "at": 0}
    f = {"sex": "doe", "size": size, "breed": SIZES[size], "had_toxemia": True}
    return {**folded(f, bred=bred, kidded=kidded, kiddings=1, checkups=[], dam_looks=[], dry_plan=None), "id": size}


def outlooks(does: dict[str, Any], on: str) -> dict[str, Any]:
    return {one: compile_doe(doe, {}, on, one) for one, doe in does.items()}


def worked(bred_on: str = BRED_ON) -> tuple[Days, dict[str, int]]:
    """(size, task) -> first and last day of gestation, of all its weeks together; size -> the first day she may kid."""
    does = {size: doe(size, bred_on) for size in SIZES}
    made, start = outlooks(does, bred_on), date.fromisoformat(bred_on)
    on_day = FarmDay({**fold([]), "does": does}, made, compile_book(fold([])), bred_on)
    found: Days = {}
    for task in on_day.ask("tasks", bred_on, f"{start.year + 1}-12-31"):
        at = task["subject"], task["task"]
        first, last = (date.fromisoformat(task[part]).toordinal() - start.toordinal() for part in ("from", "to"))
        found[at] = (min(first, found[at][0]), max(last, found[at][1])) if at in found else (first, last)
    early = {size: date.fromisoformat(made[size]["due"]["early"]).toordinal() - start.toordinal() for size in SIZES}
    return found, early


@pytest.fixture(scope="module")
def days_of() -> tuple[Days, dict[str, int]]:
    return worked()


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['size']} {row['task']}")
def test_a_task_has_the_days_the_trade_gives_it(row: dict[str, str], days_of: tuple[Days, dict[str, int]]) -> None:
    days, early = days_of
    ours, size = days[row["size"], row["task"]], row["size"]
    told = [(int(day), at) for day, at in zip((row["from_dg"], row["to_dg"]), ours, strict=True) if day]
    assert told
    if TASKS[row["task"]]["anchor"] != "due":
        assert all(at == day for day, at in told)
    elif row["task"] == "kidding_watch":
        # from the day the trade looks each day, or a day or two sooner, and never over before it says
        assert told[0][0] - 3 <= ours[0] <= told[0][0]
        assert ours[1] >= told[1][0]
    else:
        before = [(row[name], at) for name, at in zip(("from_due", "to_due"), ours, strict=True) if row[name]]
        # her close-up and her ketones are looked to until she kids
        assert all(at == early[size] + int(day) for day, at in before), (before, early[size])
        assert all(day - SOONER_D <= at <= day for day, at in told)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['size']} {row['task']}")
def test_and_rests_on_the_same(row: dict[str, str]) -> None:
    task = TASKS[row["task"]]
    assert (task["source"], task["standing"]) == (row["source"], row["standing"])
    assert row["standing"] in ("READ", "PRACTICE")
    assert row["source"] in SOURCES


def test_the_miniature_is_never_behind_the_standard_doe(days_of: tuple[Days, dict[str, int]]) -> None:
    days, early = days_of
    assert early["mini"] < early["standard"]
    tasks = {row["task"] for row in ROWS}
    assert not [task for task in tasks if days["mini", task][0] > days["standard", task][0]]


def test_a_leap_day_is_a_day_like_any_other() -> None:
    """Bred on 1 October 2027, the 29th of February lies before she kids; the year before there is none."""
    assert worked("2027-10-01") == worked(BRED_ON)


@pytest.mark.parametrize("zone", ["Pacific/Kiritimati", "America/Los_Angeles", "Europe/Vienna", "Antarctica/Troll"])
def test_no_zone_a_phone_is_in_and_no_change_of_clocks_moves_a_day(zone: str) -> None:
    """The same list where the process believes itself elsewhere; her dates go over both changes of the clocks."""
    asked = "from tests.published.test_tasks import worked; print(sorted(worked()[0].items()))"
    env = {**os.environ, "TZ": zone, "PYTHONPATH": str(ROOT)}
    said = subprocess.run([sys.executable, "-c", asked], env=env, cwd=ROOT, capture_output=True, text=True, check=True)
    assert said.stdout.strip() == str(sorted(worked()[0].items()))


def test_no_task_of_a_pregnancy_is_left_out() -> None:
    named = {row["task"] for row in ROWS}
    # only first fresheners, whose days are nobody's but keepers'
    assert {code for code, row in TASKS.items() if row["anchor"] in WHEN} - named == {"stand_training"}


@pytest.mark.parametrize("code", TASKS)
def test_a_task_is_whole(code: str) -> None:
    row = TASKS[code]
    assert row["source"] in SOURCES
    assert (row["source"] == "practice") == (row["standing"] == "PRACTICE")
    for size in ("standard", "mini"):
        first, last = row.get(size) or [0, 0]
        assert first <= last
    assert row["where"]
    assert row.get("late_d", 0) <= NUMBERS["task_late_d"]["value"]
