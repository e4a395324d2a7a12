"""The year's tasks on a closed phone: one notice a morning, under one tag, of what is still to do."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from herd.models import Notice
from herd.services.telling import outbox
from herd.services.telling.choices import choose
from tests.logs import record
from tests.people import ZONE, People, make_people
from tests.services.told import HOUR_MS, LOUD, MIN_MS, Told, at_hour, doe
from tests.support.push_phone import Maker


@pytest.fixture
def people(db: None, quick_hashes: None, settings: Any) -> People:
    settings.PUSH_TO_OURSELVES = True
    return make_people()


@pytest.fixture
def maker() -> Iterator[Maker]:
    made = Maker()
    yield made
    made.close()


@pytest.fixture
def ada(people: People, maker: Maker) -> Told:
    return Told(people, maker, "ada")


def served(told: Told, doe_id: str, days_ago: int) -> dict[str, Any]:
    on = (datetime.now(ZoneInfo(ZONE)).date() - timedelta(days=days_ago)).isoformat()
    service = {"from_on": on, "to_on": on, "how": "hand", "buck": "", "again": False}
    made = told.phone.event("bred", doe_id, service, on=on)
    record(told.phone, made)
    return made


def tomorrow_morning() -> int:
    return at_hour(datetime.now(ZoneInfo(ZONE)).date() + timedelta(days=1), 7)


def tasks_only(told: Told, **choice: Any) -> None:
    choose(told.farm, told.person, {"kinds": ["task"], **LOUD, **choice})


def test_a_task_that_follows_from_a_doe_is_told_on_the_morning_of_its_first_day(ada: Told) -> None:
    tasks_only(ada)
    served(ada, doe(ada), 16)
    outbox.step(tomorrow_morning() - 1)
    assert ada.heard() == []
    outbox.step(tomorrow_morning())
    outbox.step(tomorrow_morning() + MIN_MS)
    [said] = ada.heard()
    assert (said["title"], said["body"]) == ("Ivy", "Watch for heat")
    assert said["url"] == f"/#/at/{ada.farm.pk}/year"
    assert said["urgent"] is False


def test_the_tasks_of_a_day_are_one_notice_under_one_tag(ada: Told) -> None:
    tasks_only(ada, language="es")
    for name in ("Ivy", "Elm", "Fern"):
        served(ada, doe(ada, name), 16)
    served(ada, doe(ada, "Nettle"), 27)
    outbox.step(tomorrow_morning())
    served(ada, doe(ada, "Sorrel"), 16)
    outbox.step(tomorrow_morning() + HOUR_MS)
    [said] = ada.heard()
    assert (said["title"], said["body"]) == ("Tareas del año", "En la lista de hoy: Elm, Fern, Ivy +1.")
    assert Notice.objects.count() == 1


def test_in_quiet_hours_the_tasks_of_the_year_wait_and_are_not_lost(ada: Told) -> None:
    tasks_only(ada, quiet_from_min=6 * 60, quiet_to_min=9 * 60)
    served(ada, doe(ada), 16)
    outbox.step(tomorrow_morning())
    assert ada.heard() == []
    outbox.step(tomorrow_morning() + 2 * HOUR_MS)
    assert [one["body"] for one in ada.heard()] == ["Watch for heat"]


def test_a_task_that_was_done_sold_open_or_never_so_meanwhile_is_told_to_nobody(ada: Told) -> None:
    tasks_only(ada, quiet_from_min=6 * 60, quiet_to_min=9 * 60)
    names = ("Ivy", "Elm", "Fern", "Moss")
    does = {name: doe(ada, name) for name in names}
    services = {name: served(ada, one, 16) for name, one in does.items()}
    outbox.step(tomorrow_morning())
    done = {"task": "heat_watch", "key": services["Ivy"]["on"], "what": "done", "to_on": "", "why": ""}
    answers = record(
        ada.phone,
        ada.phone.event("task", does["Ivy"], done),
        ada.phone.event("left_herd", does["Elm"], {"why": "sold"}),
        ada.phone.event("preg_check", does["Fern"], {"result": "open", "kids": 0, "how": "scan"}),
        ada.phone.event("void", does["Moss"], {"of": services["Moss"]["id"]}),
    )
    assert {one["st"] for one in answers} == {"ok"}, answers
    outbox.step(tomorrow_morning() + 2 * HOUR_MS)
    assert ada.heard() == []
