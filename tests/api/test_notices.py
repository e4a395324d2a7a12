"""What a person is told, as her phone sets it."""

from __future__ import annotations

from typing import Any

import pytest

from herd.models import NoticeChoice, PushSubscription, Seat
from tests.people import People, make_people
from tests.phones import Phone
from tests.support.push_phone import Browser

WHAT = {"kinds": ["task", "ill"], "quiet_from_min": 1290, "quiet_to_min": 300, "language": "es"}
HERE = "https://push.example.net/a"


@pytest.fixture
def people(db: None, quick_hashes: None) -> People:
    return make_people()


@pytest.fixture
def ada(people: People) -> Phone:
    return Phone(people.farm, people.ada).sign_in()


def of(phone: Phone, more: str = "") -> str:
    return f"/api/farms/{phone.farm.pk}/notices{more}"


def test_nothing_is_told_until_somebody_asks_for_it(ada: Phone) -> None:
    said = ada.ask("GET", of(ada)).json()
    assert (said["kinds"], said["here"], said["notices"]) == ([], False, [])
    assert len(said["key"]) == 87


def test_what_is_chosen_is_kept(ada: Phone) -> None:
    said = ada.ask("PUT", of(ada), WHAT).json()
    assert said["kinds"] == ["ill", "task"]
    assert {name: said[name] for name in WHAT if name != "kinds"} == {
        name: one for name, one in WHAT.items() if name != "kinds"
    }
    assert NoticeChoice.objects.count() == 1


@pytest.mark.parametrize(
    "wrong", [{"kinds": ["gossip"]}, {"quiet_from_min": 1440}, {"quiet_to_min": -1}, {"language": "xx"}, {"kinds": 3}]
)
def test_what_there_is_not_is_not_chosen(ada: Phone, wrong: dict[str, Any]) -> None:
    assert ada.ask("PUT", of(ada), {**WHAT, **wrong}).status_code == 400


def test_a_browser_is_told_until_it_is_signed_out(ada: Phone) -> None:
    for _ in range(2):
        assert ada.ask("PUT", "/api/me/push", Browser().says(HERE)).json() == {"here": True}
    assert PushSubscription.objects.count() == 1
    assert ada.ask("GET", of(ada)).json()["here"] is True
    ada.ask("DELETE", "/api/session")
    assert not PushSubscription.objects.exists()


def test_a_browser_is_told_no_more_where_she_says_so(ada: Phone) -> None:
    ada.ask("PUT", "/api/me/push", Browser().says(HERE))
    assert ada.ask("DELETE", "/api/me/push").status_code == 204
    assert not PushSubscription.objects.exists()


def test_a_place_ended_from_another_phone_is_told_no_more(ada: Phone, people: People) -> None:
    ada.ask("PUT", "/api/me/push", Browser().says(HERE))
    seat = Seat.objects.get(person=people.ada)
    other = Phone(people.farm, people.ada).sign_in()
    assert other.ask("DELETE", f"/api/me/seats/{seat.pk}").status_code == 204
    assert not PushSubscription.objects.exists()


@pytest.mark.parametrize(
    "wrong",
    [
        {"endpoint": "http://push.example.net/a"}, {"endpoint": "https://localhost/a"}, {"p256dh": "AAAA"},
        {"auth": "AAAA"}, {"p256dh": "B" + "A" * 86}, {"endpoint": "https://push.example.net/" + "a" * 1000},
    ],
)  # fmt: skip
def test_no_other_address_and_no_other_keys(ada: Phone, wrong: dict[str, str]) -> None:
    assert ada.ask("PUT", "/api/me/push", {**Browser().says(HERE), **wrong}).status_code == 400
    assert not PushSubscription.objects.exists()


def test_tries_are_counted(ada: Phone) -> None:
    assert ada.ask("POST", of(ada, "/try")).json()["code"] == "not_on"
    ada.ask("PUT", "/api/me/push", Browser().says(HERE))
    said = [ada.ask("POST", of(ada, "/try")).status_code for _ in range(11)]
    assert said == [*[204] * 10, 429]
