"""What an entry, a pull and a new phone's start cost does not grow with what was recorded before: counted in the steps
of SQLite's own machine, never timed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import pytest
from django.db import connection

from herd.models import Farm
from herd.services.bootstrap import shorten
from herd.services.clock import now_ms
from herd.services.work import work_off
from tests.logs import record
from tests.people import make_people
from tests.phones import Phone, new_id

DAY_MS = 86_400_000
FEW, MANY = 300, 3_000
A_BATCH = 500
RULES = {"f": {"level_pm": 75}, "base": {"level_pm": ""}}
WATER = {"place": "Well", "drunk_l": 40, "values": [{"what": "sulfate", "printed": "90", "unit": "mg_l"}]}
MEAL = {"lines": [{"to": "", "feed": "orchardgrass_hay", "g": 9000}], "adds": False}
LEFT = {"how": "left_some", "left_pct": 25, "feed": "", "fed": ""}
Told = tuple[str, str, dict[str, Any], str]


@dataclass
class Steps:
    n: int = 0

    def one(self) -> int:
        self.n += 1
        return 0


@contextmanager
def counted() -> Iterator[Steps]:
    steps = Steps()
    connection.ensure_connection()
    connection.connection.set_progress_handler(steps.one, 1)
    try:
        yield steps
    finally:
        connection.connection.set_progress_handler(None, 0)


class Long:
    """A farm of three does, with so many entries from before the sixty days a phone shows, and a few since."""

    def __init__(self, phone: Phone, entries: int) -> None:
        self.phone, self.farm = phone, phone.farm
        self.does, self.pen = [new_id() for _ in range(3)], new_id()
        self.stock()
        self.looked(entries, 390, 100)
        self.looked(30, 50, 1)
        work_off(self.farm.pk)
        shorten(self.farm.pk)

    def stock(self) -> None:
        ago = now_ms() - 400 * DAY_MS
        pen = {"name": "Straw barn", "order": 0, "role": "other"}
        fields = {"name": "Ivy", "size": "standard", "breed": "alpine", "kiddings_before": 2}
        made = [("pen", self.pen, {"f": pen, "base": dict.fromkeys(pen, "")}, "")]
        for doe in self.does:
            made.append(("doe", doe, {"f": fields, "base": dict.fromkeys(fields, "")}, ""))
            made.append(("moved", doe, {"pen": self.pen}, ""))
            steps = [{"on": "2020-01-01", "g": 300}]
            plan = {"to": "doe", "slot": "evening", "feed": "barley_rolled", "steps": steps, "base": ""}
            made.append(("ration", doe, plan, "evening"))
        self.take([self.entry(one, ago + n) for n, one in enumerate(made)], ago)

    def looked(self, entries: int, since_d: int, until_d: int) -> None:
        now, span = now_ms(), (since_d - until_d) * DAY_MS
        at = [now - since_d * DAY_MS + n * span // entries for n in range(entries)]
        made = [self.entry(self.seen(n), at[n]) for n in range(entries)]
        for first in range(0, entries, A_BATCH):
            some = made[first : first + A_BATCH]
            self.take(some, some[-1]["happened"])

    def seen(self, n: int) -> Told:
        doe = self.does[n % 3]
        return (
            ("score", doe, {"x100": 300}, ""),
            ("milk", doe, {"g": 1_500, "fat_x100": 0}, ""),
            ("fed", self.pen, MEAL, "evening"),
            ("intake", doe, LEFT, "evening"),
            ("udder", doe, {"fill": 2, "uneven": False}, ""),
            ("note", doe, {"text": "as ever"}, ""),
            ("water", self.farm.pk, WATER, ""),
        )[n % 7]

    def entry(self, told: Told, at: int) -> dict[str, Any]:
        kind, subject, data, slot = told
        return self.phone.event(kind, subject, data, slot=slot, happened=at)

    def take(self, events: list[dict[str, Any]], now: int) -> None:
        answers = record(self.phone, *events, now=now)
        assert {one["st"] for one in answers} == {"ok"}, answers

    def asked(self, ask: Callable[[Long], Any]) -> int:
        with counted() as steps:
            ask(self)
        return steps.n


def push(kind: str, data: dict[str, Any], slot: str = "") -> Callable[[Long], None]:
    def ask(long: Long) -> None:
        subject = {"rules": long.farm.pk, "water": long.farm.pk, "fed": long.pen}.get(kind, long.does[0])
        farm = Farm.objects.get(pk=long.farm.pk)
        long.phone.seq, long.phone.outlook_rev = farm.seq, farm.outlook_rev
        [answer] = long.phone.push(long.phone.event(kind, subject, data, slot=slot))
        assert answer["st"] == "ok", answer

    return ask


def pull(long: Long) -> None:
    farm = Farm.objects.get(pk=long.farm.pk)
    page = long.phone.get("changes", seq=farm.seq - 3, outlook_rev=farm.outlook_rev - 1).json()
    assert len(page["events"]) == 3


def bootstrap(long: Long) -> None:
    page = long.phone.get("bootstrap").json()
    assert 30 < len(page["events"]) < 200


RATION = {
    "to": "doe",
    "slot": "evening",
    "feed": "barley_rolled",
    "steps": [{"on": "2020-01-01", "g": 350}],
    "base": "",
}
ASKED: dict[str, Callable[[Long], None]] = {
    "a score": push("score", {"x100": 275}),
    "an udder": push("udder", {"fill": 3, "uneven": False}),
    "the rules": push("rules", RULES),
    "a water test": push("water", WATER),
    "a ration": push("ration", RATION, "evening"),
    "a meal": push("fed", MEAL, "morning"),
    "a pull": pull,
    "a start": bootstrap,
    "the worker's turn": lambda long: work_off(long.farm.pk),
}


@pytest.mark.django_db
def test_ten_times_the_history_takes_no_more_steps(settings: Any) -> None:
    if connection.vendor != "sqlite":
        pytest.skip("what is counted are the steps of SQLite's machine")
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    people = make_people()
    # The longer one last: going through the rows of both would show in it as well.
    few, many = (
        told(Long(Phone(farm, person).sign_in(), entries))
        for person, farm, entries in ((people.ada, people.farm, FEW), (people.dov, people.dovs_farm, MANY))
    )
    print({name: (few[name], many[name]) for name in ASKED})
    assert {name: (few[name], many[name]) for name in ASKED if many[name] > 1.1 * few[name]} == {}


def told(long: Long) -> dict[str, int]:
    for ask in ASKED.values():
        ask(long)
    return {name: long.asked(ask) for name, ask in ASKED.items()}
