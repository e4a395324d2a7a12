"""Tries that are counted: for every worker, by account by the address the proxy saw, and never what a barn sends."""

from __future__ import annotations

import threading
from typing import Any

import pytest
from django.core.cache import cache
from django.db import connection
from django.test import RequestFactory

from api import sync
from api.account import doors
from api.account.address import client_address, client_house
from herd.models import Audit, Tries
from herd.services.limits import Busy, Limit, clear, forget_old, give_back, hit
from tests.people import PASSWORD, People
from tests.phones import Phone, new_id, states

FEW = Limit("few", 3, 60)


def status(phone: Phone, name: str, password: str = "no", address: str = "10.0.0.1") -> int:
    body = {"name": name, "password": password}
    phone.client.defaults["REMOTE_ADDR"] = address
    return int(phone.send("/api/session", body).status_code)


@pytest.fixture
def phone(people: People) -> Phone:
    return Phone(people.farm, people.ada)


def test_ten_wrong_passwords_and_then_not_even_the_right_one(phone: Phone, people: People) -> None:
    assert [status(phone, "Ada") for _ in range(11)] == [400] * 10 + [429]
    assert status(phone, "aDA", PASSWORD) == 429
    # From where she really is she gets in all the same.
    assert status(phone, "Ada", PASSWORD, "10.0.0.2") == 200
    assert Audit.objects.filter(what="sign_in_failed", person=people.ada.pk).count() == 10


def test_a_success_clears_her_count(phone: Phone) -> None:
    for _ in range(4):
        assert [status(phone, "Ada") for _ in range(9)] == [400] * 9
        assert status(phone, "Ada", PASSWORD) == 200


def test_successes_are_not_counted_at_all(phone: Phone) -> None:
    assert {status(phone, "Ada", PASSWORD) for _ in range(doors.ADDRESS.most + 5)} == {200}


def test_one_address_does_not_spray_names(phone: Phone) -> None:
    said = [status(phone, f"Name {n}") for n in range(doors.ADDRESS.most + 1)]
    assert (said[0], said[-1]) == (400, 429)
    assert status(phone, "Ada", PASSWORD) == 429
    assert status(phone, "Ada", PASSWORD, "10.0.0.2") == 200


def test_many_addresses_do_not_guess_at_one_name(phone: Phone) -> None:
    said = [status(phone, "Ada", "no", f"10.1.{n}.1") for n in range(doors.ACCOUNT.most + 1)]
    assert (said[0], said[-1]) == (400, 429)


@pytest.mark.parametrize("path", ["/api/auth/browser/v1/auth/login", "/api/session"])
def test_every_door_counts_together(phone: Phone, path: str) -> None:
    for _ in range(5):
        assert status(phone, "Ada") == 400
        phone.send("/api/auth/browser/v1/auth/login", {"username": "Ada", "password": "no"})
    answer = phone.send(path, {"username": "Ada", "name": "Ada", "password": PASSWORD})
    assert (answer.status_code, answer.json()["code"]) == (429, "busy")


def test_the_printed_code_is_not_guessed(phone: Phone) -> None:
    body = {"name": "Ada", "code": "AAAA-AAAA", "password": "thaw before the river"}
    said = [phone.send("/api/recovery", body).status_code for _ in range(doors.RECOVERY.most + 1)]
    assert said == [400] * doors.RECOVERY.most + [429]


def test_a_made_up_hop_is_not_believed(settings: Any) -> None:
    asked = RequestFactory().get("/", REMOTE_ADDR="10.0.0.9", HTTP_X_FORWARDED_FOR="1.1.1.1, 10.0.0.7")
    assert client_address(asked) == "10.0.0.9"
    settings.BEHIND_PROXY = True
    assert client_address(asked) == "10.0.0.7"
    assert client_address(RequestFactory().get("/", REMOTE_ADDR="10.0.0.9", HTTP_X_FORWARDED_FOR="junk")) == "127.0.0.1"
    assert client_address(RequestFactory().get("/", REMOTE_ADDR="")) == "127.0.0.1"


def test_one_house_is_one_address_of_the_newer_kind() -> None:
    houses = {client_house(RequestFactory().get("/", REMOTE_ADDR=f"2001:db8:1:2::{n}")) for n in range(1, 5)}
    assert houses == {"2001:db8:1:2::"}


def test_behind_the_proxy_each_client_is_counted_by_itself(phone: Phone, settings: Any) -> None:
    settings.BEHIND_PROXY = True
    phone.client.defaults["HTTP_X_FORWARDED_FOR"] = "9.9.9.9, 10.0.0.5"
    assert [status(phone, "Ada") for _ in range(11)][-1] == 429
    phone.client.defaults["HTTP_X_FORWARDED_FOR"] = "9.9.9.9, 10.0.0.6"
    assert status(phone, "Ada", PASSWORD) == 200


def test_allauths_own_limits_hold_for_all_workers(db: None) -> None:
    """They count in the cache: it is a table."""
    cache.set("x", 1)
    with connection.cursor() as cursor:
        cursor.execute("SELECT count(*) FROM mangerline_cache")
        assert cursor.fetchone()[0] == 1


def test_a_barn_that_comes_home_is_not_held_up(ada: Phone, people: People) -> None:
    """Forty phones of one person behind one address, ten batches each, within a minute."""
    phones = [Phone(people.farm, people.ada) for _ in range(40)]
    for phone in phones:
        phone.client = ada.client
    token = ada.token
    for _ in range(10):
        for phone in phones:
            path = f"/api/farms/{people.farm.id}/events"
            assert phone.send(path, phone.body([]), token=token).status_code == 200


def test_a_made_up_phone_is_no_new_count(ada: Phone, people: People, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sync, "PUSHES_A_MINUTE", 5)
    said = []
    for _ in range(7):
        ada.device = new_id()
        said.append(ada.push_raw(ada.body([])).status_code)
    # A minute may begin in between.
    assert said.count(429) >= 1
    assert said[0] == 200


def test_a_busy_phone_keeps_its_entries(ada: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    entry = ada.record("doe", new_id(), {"name": "Ivy"})
    with monkeypatch.context() as patch:
        patch.setattr(sync, "PUSHES_A_MINUTE", 0)
        assert ada.push_raw(ada.body([entry])).status_code == 429
    assert states(ada.push(entry)) == ["ok"]


@pytest.mark.django_db
def test_a_window_ends() -> None:
    for _ in range(3):
        hit(FEW, "x")
    with pytest.raises(Busy) as busy:
        hit(FEW, "x")
    assert 0 < busy.value.wait_s <= 60
    hit(FEW, "y")
    Tries.objects.update(until_ms=0)
    hit(FEW, "x")
    assert Tries.objects.get(key=FEW.key("x")).count == 1
    give_back(FEW, "x")
    give_back(FEW, "x")
    assert Tries.objects.get(key=FEW.key("x")).count == 0
    clear(FEW, "x")
    assert forget_old() == 1
    assert not Tries.objects.exists()


@pytest.mark.django_db(transaction=True)
def test_of_many_at_once_no_more_get_through_than_may() -> None:
    let_in: list[int] = []

    def try_it() -> None:
        try:
            hit(FEW, "at once")
            let_in.append(1)
        except Busy:
            pass
        finally:
            connection.close()

    threads = [threading.Thread(target=try_it) for _ in range(12)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(let_in) == FEW.most
