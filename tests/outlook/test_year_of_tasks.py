"""Invented does through a year on the real outlook: what the list says of each must hold together, on any day."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from herd.outlook.book import compile_book
from herd.outlook.compile import compile_doe
from herd.outlook.evaluate import FarmDay
from herd.outlook.tables import TASKS
from herd.state.fold import fold
from tests.support.log import Log
from tests.support.thorough import THOROUGH

START = date(2026, 8, 1)
DOES, EVERY_D, LAST_D = (36, 9, 420) if THOROUGH else (10, 23, 420)
CARRYING = {code for code, row in TASKS.items() if row["anchor"] in ("bred", "settled", "due")}
SIZES = {"standard": "alpine", "mini": "nigerian_dwarf"}
# Of one doe whose keeper never taps anything: more at once is a wall nobody reads.
MOST_LATE, MOST_OPEN = 6, 14


def on(day: int) -> str:
    return (START + timedelta(days=day)).isoformat()


@dataclass
class Invented:
    """Entries of some does by the day they are written down, which may be long after they were true."""

    dice: random.Random
    rows: list[tuple[int, str, str, dict[str, Any], int]] = field(default_factory=list)
    noted: dict[str, int] = field(default_factory=dict)
    gone: dict[str, int] = field(default_factory=dict)
    carries: dict[str, list[tuple[int, int]]] = field(default_factory=dict)

    def add(self, kind: str, doe: str, data: dict[str, Any], day: int) -> None:
        self.rows.append((max(day, self.noted[doe]), kind, doe, data, day))

    def doe(self, n: int) -> None:
        dice, doe = self.dice, f"doe{n:02}"
        self.noted[doe] = written = dice.choice([-60, -60, 0, 95, 150, 205, 230])
        size = dice.choice(["standard", "mini"])
        f = {"name": doe, "sex": "doe", "size": size, "breed": SIZES[size], "kiddings_before": dice.randrange(4)}
        self.rows.append((written, "doe", doe, {"f": f, "base": {}}, written))
        if f["kiddings_before"] and dice.random() < 0.6:
            self.add("kidded", doe, {"born": 2, "alive": 2, "timed": False}, -150)
        bred, pen = dice.randrange(20, 110), dice.random() < 0.3
        to = bred + (dice.randrange(7, 43) if pen else 0)
        self.serve(doe, bred, to)
        getattr(self, dice.choice(["kids", "kids", "kids", "open", "again", "lost", "sold", "scanned"]))(doe, bred, to)

    def serve(self, doe: str, bred: int, to: int) -> None:
        how = "pen" if to > bred else "hand"
        self.add("bred", doe, {"from_on": on(bred), "to_on": on(to), "how": how, "buck": "", "again": False}, bred)

    def ends(self, doe: str, bred: int, day: int) -> None:
        self.carries.setdefault(doe, []).append((bred, max(day, self.noted[doe])))

    def kids(self, doe: str, bred: int, to: int) -> None:
        day = self.dice.randrange(bred, to + 1) + self.dice.randrange(145, 155)
        self.add("kidded", doe, {"born": 2, "alive": 2, "timed": False}, day)
        self.ends(doe, bred, day)

    def open(self, doe: str, bred: int, to: int) -> None:
        self.add("preg_check", doe, {"result": "open", "kids": 0, "how": "scan"}, to + 45)
        self.ends(doe, bred, to + 45)

    def again(self, doe: str, bred: int, to: int) -> None:
        self.add("heat", doe, {"what": "standing"}, to + 21)
        self.serve(doe, to + 21, to + 21)
        self.ends(doe, bred, LAST_D + 1)

    def lost(self, doe: str, bred: int, to: int) -> None:
        self.add("kidded", doe, {"born": 2, "alive": 0, "timed": False}, to + 105)
        self.ends(doe, bred, to + 105)

    def sold(self, doe: str, bred: int, to: int) -> None:
        self.add("left_herd", doe, {"why": self.dice.choice(["sold", "died"])}, to + 80)
        self.gone[doe] = max(to + 80, self.noted[doe])
        self.ends(doe, bred, to + 80)

    def scanned(self, doe: str, bred: int, to: int) -> None:
        self.add("preg_check", doe, {"result": "pregnant", "kids": 3, "how": "scan"}, to + 60)
        self.add("score", doe, {"x100": 225}, to + 85)
        self.add("dried_off", doe, {}, to + 92)
        self.kids(doe, bred, to)

    def events(self, day: int) -> list[dict[str, Any]]:
        log = Log()
        for n, (written, kind, doe, data, told) in enumerate(sorted(self.rows, key=lambda row: row[0])):
            at = START + timedelta(days=written)
            ms = int(datetime(at.year, at.month, at.day, 12, tzinfo=UTC).timestamp() * 1000)
            if written <= day:
                log.add(kind, doe, data, on(told), hlc=f"{ms:012x}-{n:04x}-0000000a")
        return log.events


def listed(invented: Invented, day: int) -> list[dict[str, Any]]:
    """What a phone lists: still of use, and what comes again once."""
    view = fold(invented.events(day))
    outlooks = {name: compile_doe(doe, {}, on(day), name) for name, doe in view["does"].items()}
    asked = FarmDay(view, outlooks, compile_book(view), on(day)).ask("tasks", on(day - 45), on(day + 14))
    return [task for task in asked if task["state"] in ("open", "moved") and not task["over"]]


def made(seed: int) -> Invented:
    invented = Invented(random.Random(seed))
    for n in range(DOES):
        invented.doe(n)
    return invented


def days() -> Iterator[int]:
    yield from range(-50, LAST_D, EVERY_D)


@pytest.mark.parametrize("seed", range(4 if THOROUGH else 2))
def test_the_list_of_any_day_holds_together(seed: int) -> None:
    invented = made(seed)
    for day in days():
        tasks = [task for task in listed(invented, day) if task["subject"] in invented.noted]
        for doe, noted in invented.noted.items():
            hers = [task for task in tasks if task["subject"] == doe]
            about = (seed, day, doe, [(task["task"], task["from"], task["to"]) for task in hers])
            late = [task for task in hers if task["late"]]
            assert all(task["to"] > on(noted) for task in late), about
            assert len(late) <= MOST_LATE, about
            assert len({task["task"] for task in hers}) <= MOST_OPEN, about
            assert all(task["from"] <= task["to"] for task in hers), about
            weekly = [task for task in hers if not TASKS[task["task"]].get("every_d")]
            assert len({task["task"] for task in weekly}) == len(weekly), about
            if invented.gone.get(doe, LAST_D + 1) <= day:
                assert not hers, about
            carries = any(first <= day < last for first, last in invented.carries[doe])
            if not carries:
                assert not {task["task"] for task in hers} & CARRYING, about


def test_what_belongs_together_comes_in_its_order() -> None:
    """Of one doe, however her dates are known: dried off before her close-up, the kit before the pen and the watch."""
    invented, order = made(7), ("scan", "dry_off", "booster", "close_up", "kit", "kidding_pen")
    first: dict[tuple[str, str], str] = {}
    for day in days():
        for task in listed(invented, day):
            first.setdefault((task["subject"], task["task"]), task["from"])
    for doe in invented.noted:
        hers = [first[doe, task] for task in order if (doe, task) in first]
        assert hers == sorted(hers), (doe, hers)
