"""A miniature and a standard doe bred the same day: each task's days of gestation beside what the trade says.

`tasks.csv` is the trade's table, READ in the source it names or common practice that nobody published; a blank day is
one it leaves open. None of it is made by our code.
"""

from __future__ import annotations

import csv
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from herd.outlook.evaluate import FarmDay
from herd.outlook.rules import RULES
from herd.outlook.tables import TASKS
from herd.state.fold import fold
from tests.support.paths import ROOT

HERE = Path(__file__).parent
SOURCES = tomllib.loads((ROOT / "herd/science/sources.toml").read_text(encoding="utf-8"))
BRED_ON = "2026-10-01"
WHEN = ("bred", "due")
with (HERE / "tasks.csv").open(newline="", encoding="utf-8") as lines:
    ROWS = list(csv.DictReader(lines))


def doe(size: str) -> dict[str, Any]:
    bred = {"from": BRED_ON, "to": BRED_ON, "on": BRED_ON, "how": "hand", "ev": "b"}
    kidded = {"on": "2026-02-20", "born": 2, "alive": 2, "timed": False, "ev": "k", "at": 0}
    seen = {name: [] for name in ("moves", "scores", "milks", "heats", "services", "dam_looks")}
    state = {"bred": bred, "kidded": kidded, "check": None, "dried_on": "", "left_on": "", "kiddings": 1, "pen": ""}
    return {"id": size, "f": {"sex": "doe", "size": size}, "stamp": {}, "by": {}, **seen, **state}


@pytest.fixture(scope="module")
def days_of() -> dict[tuple[str, str], tuple[int, int]]:
    view = {**fold([]), "does": {size: doe(size) for size in ("standard", "mini")}}
    book = {"rules": {name: rule.default for name, rule in RULES.items()}, "feeds": {}}
    tasks = FarmDay(view, {}, book, BRED_ON).ask("tasks", BRED_ON, "2027-12-31")
    start = date.fromisoformat(BRED_ON)
    return {
        (task["subject"], task["task"]): tuple((date.fromisoformat(task[at]) - start).days for at in ("from", "to"))
        for task in tasks
    }


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['size']} {row['task']}")
def test_a_task_has_the_days_the_trade_gives_it(row: dict[str, str], days_of: dict[Any, tuple[int, int]]) -> None:
    ours = days_of[row["size"], row["task"]]
    said = [(int(told), day) for told, day in zip((row["from_dg"], row["to_dg"]), ours, strict=True) if told]
    assert said
    for told, day in said:
        # how much longer the watch of a miniature stays open is nobody's number: never shorter than told
        assert day >= told if row["task"] == "kidding_watch" else day == told


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['size']} {row['task']}")
def test_and_rests_on_the_same(row: dict[str, str]) -> None:
    task = TASKS[row["task"]]
    assert (task["source"], task["standing"]) == (row["source"], row["standing"])


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
        first, last = row.get(size, [0, 0])
        assert first <= last
    assert row["where"]
