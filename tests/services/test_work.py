"""The worker's turns: who comes next, how much of a farm at once, and what a bad one does to the rest."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from herd.models import Farm, Folded, NightlyTask, OutlookRow, WorkerSeen
from herd.services import due as dates
from herd.services import nightly, work
from herd.services import recompile as compiling
from herd.services.backlog import backlog_ms
from herd.services.clock import now_ms
from herd.services.make_farm import make_farm
from herd.services.recompile import due_today
from tests.logs import outlooks, record
from tests.people import ZONE, People
from tests.phones import Phone, new_id

DAY_MS = 24 * 3600 * 1000


@pytest.fixture(autouse=True)
def cheap_outlooks(monkeypatch: Any) -> None:
    monkeypatch.setattr(
        compiling, "compile_doe", lambda view, rules, today, doe, years: {"doe": doe, "seen": view["scores"]}
    )
    monkeypatch.setattr(compiling, "compile_book", lambda view, years: {"doe": ""})


def farm_of(phone: Phone) -> Farm:
    return Farm.objects.get(pk=phone.farm.pk)


def stock(phone: Phone, count: int) -> list[str]:
    does = [new_id() for _ in range(count)]
    record(phone, *(phone.record("doe", doe, {"name": "Ivy"}) for doe in does))
    return does


def quiet() -> None:
    while work.step():
        pass


def test_a_push_compiles_nothing_and_says_that_something_is_due(ada: Phone) -> None:
    stock(ada, 1)
    assert OutlookRow.objects.count() == 0
    assert due_today(farm_of(ada))
    quiet()
    assert OutlookRow.objects.filter(farm=ada.farm).count() == 2
    assert not due_today(farm_of(ada))


def test_the_farm_that_has_been_due_longest_comes_first(people: People) -> None:
    quiet()
    now = now_ms()
    third, first, second = (make_farm(f"Farm {n}", ZONE, people.ada) for n in range(3))
    for place, (farm, ago) in enumerate(((third, 10), (first, 30), (second, 20))):
        Farm.objects.filter(pk=farm.pk).update(work_at_ms=now - ago, name=f"{place}")
    taken = [work.take_next(now) for _ in range(4)]
    assert taken == [first.pk, second.pk, third.pk, None]


def test_a_farm_is_leased_to_one_and_comes_free_when_that_one_died(ada: Phone) -> None:
    quiet()
    stock(ada, 1)
    now = now_ms()
    assert work.take_next(now) == ada.farm.pk
    assert work.take_next(now) is None
    assert work.take_next(now + work.LEASE_MS) == ada.farm.pk


def test_a_turn_is_so_many_does_and_then_it_is_the_next_farms(ada: Phone, people: People, monkeypatch: Any) -> None:
    quiet()
    monkeypatch.setattr(work, "MOST_DOES", 3)
    stock(ada, 7)
    other = Phone(people.dovs_farm, people.dov)
    stock(other, 1)
    order = []
    for _ in range(4):
        before = {farm.pk: farm.outlook_rev for farm in Farm.objects.all()}
        assert work.step()
        order += [farm.pk for farm in Farm.objects.all() if farm.outlook_rev != before[farm.pk]]
        # Half done is not done.
        assert due_today(farm_of(ada)) == (len(order) < 4)
    assert order == [ada.farm.pk, other.farm.pk, ada.farm.pk, ada.farm.pk]
    assert len(outlooks(ada.farm)) == 8
    assert not work.step()


def test_what_was_recorded_comes_before_what_grew_old(ada: Phone, monkeypatch: Any) -> None:
    does = stock(ada, 6)
    quiet()
    OutlookRow.objects.update(compiled_on="2020-01-01")
    monkeypatch.setattr(work, "MOST_DOES", 1)
    record(ada, ada.event("score", does[4], {"x100": 300}))
    assert work.step()
    fresh = OutlookRow.objects.exclude(compiled_on="2020-01-01").exclude(doe="")
    assert list(fresh.values_list("doe", flat=True)) == [does[4]]


def test_more_does_that_stumble_than_a_turn_takes_come_to_an_end(ada: Phone, monkeypatch: Any) -> None:
    monkeypatch.setattr(work, "MOST_DOES", 2)
    monkeypatch.setattr(compiling, "compile_doe", lambda *_: 1 / 0)
    stock(ada, 7)
    quiet()
    assert not due_today(farm_of(ada))
    assert not Folded.objects.filter(farm=ada.farm, stale=True).exists()


def test_a_farm_that_cannot_be_worked_on_is_put_off_and_keeps_nobody(
    ada: Phone, people: People, monkeypatch: Any
) -> None:
    quiet()
    other = Phone(people.dovs_farm, people.dov)
    stock(ada, 1)
    stock(other, 1)
    real = compiling.card_inputs

    def spoiled(farm: Farm, today: Any) -> Any:
        return 1 / 0 if farm.pk == ada.farm.pk else real(farm, today)

    monkeypatch.setattr(compiling, "card_inputs", spoiled)
    quiet()
    assert len(outlooks(other.farm)) == 2
    assert due_today(farm_of(ada))
    assert farm_of(ada).work_at_ms > now_ms() + work.PUT_OFF_MS / 2
    monkeypatch.setattr(compiling, "card_inputs", real)
    record(ada, ada.record("doe", new_id(), {"name": "Elm"}))
    quiet()
    assert len(outlooks(ada.farm)) == 3


def test_tomorrow_is_when_the_farms_own_day_begins(ada: Phone) -> None:
    doe = stock(ada, 1)[0]
    quiet()
    record(ada, ada.event("milk", doe, {"g": 900, "fat_x100": 0}))
    farm = farm_of(ada)
    assert farm.work_at_ms == dates.starts_ms(farm.outlooks_due_on, ZONE)
    assert now_ms() < farm.work_at_ms <= now_ms() + DAY_MS
    assert not work.step()


def test_a_farm_taken_too_early_is_given_back_until_its_day(ada: Phone) -> None:
    stock(ada, 1)
    quiet()
    on = farm_of(ada).outlooks_due_on
    Farm.objects.filter(pk=ada.farm.pk).update(work_at_ms=1)
    assert work.step()
    assert (farm_of(ada).work_at_ms, farm_of(ada).lease_until_ms) == (dates.starts_ms(on, ZONE), 0)


def test_another_science_reaches_every_farm_after_what_waits(ada: Phone, people: People, monkeypatch: Any) -> None:
    stock(ada, 1)
    quiet()
    for module in (compiling, work):
        monkeypatch.setattr(module, "science_version", lambda: "9.9.9")
    other = Phone(people.dovs_farm, people.dov)
    stock(other, 1)
    quiet()
    assert Farm.objects.get(pk=people.dovs_farm.pk).science == "9.9.9"
    assert farm_of(ada).science != "9.9.9"
    worker = work.Worker(lambda: True)
    assert worker.renew()
    assert farm_of(ada).science == "9.9.9"
    assert not worker.renew()
    assert worker.renewed


def test_when_nothing_is_due_a_look_is_one_question(ada: Phone, django_assert_num_queries: Any) -> None:
    stock(ada, 1)
    quiet()
    with django_assert_num_queries(1):
        assert not work.step()


def test_a_worker_shows_itself_and_what_it_saw_waiting(ada: Phone) -> None:
    quiet()
    stock(ada, 1)
    worker = work.Worker(lambda: True)
    worker.show(now_ms())
    seen = WorkerSeen.objects.get()
    assert (seen.backlog, seen.due_since_ms) == (1, farm_of(ada).work_at_ms)
    worker.gone()
    assert not WorkerSeen.objects.exists()


def test_the_backlog_counts_only_while_somebody_works_on_it(ada: Phone) -> None:
    quiet()
    stock(ada, 1)
    now = now_ms()
    Farm.objects.filter(pk=ada.farm.pk).update(work_at_ms=now - 90_000)
    assert backlog_ms(now) == 0
    WorkerSeen.objects.create(name="barn", seen_at_ms=now - 1_000)
    assert backlog_ms(now) == 90_000


def test_a_nightly_task_is_done_once_a_day_by_one_and_a_bad_one_keeps_no_other(db: None, monkeypatch: Any) -> None:
    done = []

    def good(now: int) -> None:
        done.append(now)

    def bad(now: int) -> None:
        raise RuntimeError("no")

    monkeypatch.setattr(nightly, "TASKS", [bad, good])
    now = now_ms()
    for at in (now, now, now + DAY_MS, now):
        nightly.run_due(at)
    assert done == [now, now + DAY_MS]
    assert NightlyTask.objects.count() == 2


def test_ended_sessions_are_cleared_each_night(ada: Phone) -> None:
    from datetime import UTC, datetime

    from django.contrib.sessions.models import Session

    past = datetime.now(UTC) - timedelta(days=1)
    Session.objects.create(session_key="old", session_data="", expire_date=past)
    nightly.run_due(now_ms())
    assert not Session.objects.filter(session_key="old").exists()
