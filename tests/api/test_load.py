"""Turned away before anything is looked at, with a wait; and nothing lost by it."""

from __future__ import annotations

import threading
from typing import Any

import pytest

from api import load, sync
from api.load import Door, Full
from herd.models import Event, Farm, WorkerSeen
from herd.services.clock import now_ms
from tests.phones import Phone, new_id


@pytest.fixture
def door(monkeypatch: Any) -> Door:
    made = Door()
    monkeypatch.setattr(sync, "door", made)
    return made


def test_more_pushes_at_once_than_a_worker_takes_in_are_told_to_wait(ada: Phone, door: Door) -> None:
    body = ada.body([ada.record("doe", new_id(), {"name": "Ivy"})])
    door.inside = load.MOST_AT_ONCE
    answer = ada.push_raw(body)
    assert answer.status_code == 503
    assert set(answer.json()) == {"code", "message", "where"}
    assert answer.json()["code"] == "busy"
    assert 1 <= int(answer["Retry-After"]) <= load.LONGEST_WAIT_S + 1
    assert not Event.objects.exists()
    door.inside = 0
    assert ada.push_raw(body).json()["answers"][0]["st"] == "ok"
    assert door.inside == 0


def test_not_even_an_unreadable_body_is_looked_at(ada: Phone, door: Door) -> None:
    door.inside = load.MOST_AT_ONCE
    assert ada.push_raw(b"{").status_code == 503
    door.inside = 0
    assert ada.push_raw(b"{").status_code == 400
    assert door.inside == 0, "a refused one has left the room too"


def test_those_turned_away_together_are_not_told_to_come_back_together() -> None:
    door = Door()
    door.inside = load.MOST_AT_ONCE
    waits = []
    for _ in range(100):
        with pytest.raises(Full) as told, door.room():
            pass
        waits.append(int(told.value.headers["Retry-After"]))
    assert max(waits) - min(waits) >= 5
    assert max(waits) <= 100 * load.GUESSED_S / load.TOLD_SOONER + 2
    assert max(waits.count(wait) for wait in set(waits)) <= 2 * load.TOLD_SOONER / load.GUESSED_S


def test_one_is_worked_on_while_the_others_that_are_let_in_wait_for_their_turn() -> None:
    door, done = Door(), threading.Event()

    def another() -> None:
        with door.room(), door.turn():
            done.set()

    with door.room(), door.turn():
        waiting = threading.Thread(target=another)
        waiting.start()
        assert not done.wait(0.2)
        assert door.inside == 2
    waiting.join(5)
    assert done.is_set()
    assert door.inside == 0


def test_what_has_not_been_read_whole_keeps_nobody_from_the_desk(ada: Phone, door: Door) -> None:
    with door.desk:
        assert ada.push_raw(b"{").status_code == 400


def test_outlooks_due_too_long_keep_pushes_out_while_a_worker_is_at_it(ada: Phone, monkeypatch: Any) -> None:
    doe = ada.record("doe", new_id(), {"name": "Ivy"})
    Farm.objects.update(work_at_ms=now_ms() - load.BACKLOG_MS - 5_000)
    monkeypatch.setattr(sync, "door", Door())
    assert ada.push_raw(ada.body([doe])).status_code == 200, "nobody works: waiting would help nobody"
    Farm.objects.update(work_at_ms=now_ms() - load.BACKLOG_MS - 5_000)
    WorkerSeen.objects.create(name="barn", seen_at_ms=now_ms())
    monkeypatch.setattr(sync, "door", Door())
    answer = ada.push_raw(ada.body([ada.event("score", doe["subject"], {"x100": 300})]))
    assert answer.status_code == 503
    assert int(answer["Retry-After"]) >= load.BACKLOG_WAIT_S
    assert ada.get("changes").status_code == 200, "who only asks is answered"


def test_the_count_is_right_whatever_comes_at_once() -> None:
    door, refused, most = Door(), [], []
    start = threading.Barrier(16)

    def knock() -> None:
        start.wait()
        for _ in range(200):
            try:
                with door.room():
                    most.append(door.inside)
            except Full:
                refused.append(1)

    threads = [threading.Thread(target=knock) for _ in range(16)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert max(most) <= load.MOST_AT_ONCE
    assert door.inside == 0
    assert len(most) + len(refused) == 16 * 200
