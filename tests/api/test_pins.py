"""A PIN for taking over on a shared phone, and seats seen and ended from elsewhere."""

from __future__ import annotations

import base64
import hashlib
from datetime import timedelta
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from herd.models import Audit, Event, Quarantine, Seat
from herd.services.seats import MOST_WRONG_PINS
from tests.people import PASSWORD, People
from tests.phones import Phone, states

AUTH = "/api/auth/browser/v1"


@pytest.fixture
def shared(people: People) -> Phone:
    """Ada and Ben have signed in on it; Ben is on; Ada has a PIN."""
    phone = Phone(people.farm, people.ada).sign_in()
    assert phone.ask("PUT", "/api/me/pin", {"pin": "4711", "password": PASSWORD}).json() == {"pin": True}
    phone.person = people.ben
    return phone.sign_in()


def take(phone: Phone, person: Any, **more: str) -> Any:
    return phone.ask("PUT", "/api/session", {"person": person.pk, **more})


def says(answer: Any) -> tuple[int, str]:
    return answer.status_code, answer.json().get("code", "")


def test_her_seat_takes_her_pin(shared: Phone, people: People) -> None:
    assert says(take(shared, people.ada)) == (403, "pin_needed")
    wrong = take(shared, people.ada, pin="0000")
    assert (*says(wrong), wrong.json()["left"]) == (403, "wrong_pin", MOST_WRONG_PINS - 1)
    assert take(shared, people.ada, pin="4711").json()["person"]["name"] == "Ada"
    assert take(shared, people.ben).json()["person"]["name"] == "Ben"


def test_after_five_wrong_ones_only_the_password_opens_it(shared: Phone, people: People) -> None:
    for _ in range(MOST_WRONG_PINS):
        assert says(take(shared, people.ada, pin="0000")) == (403, "wrong_pin")
    assert says(take(shared, people.ada, pin="4711")) == (403, "password_needed")
    shared.person = people.ada
    shared.sign_in()
    take(shared, people.ben)
    assert take(shared, people.ada, pin="4711").status_code == 200


def test_a_right_one_forgets_the_wrong_ones_before(shared: Phone, people: People) -> None:
    for _ in range(3):
        for _ in range(MOST_WRONG_PINS - 1):
            take(shared, people.ada, pin="0000")
        assert take(shared, people.ada, pin="4711").status_code == 200
        take(shared, people.ben)


def test_a_phone_without_a_signal_can_check_it(shared: Phone) -> None:
    seats = shared.client.get("/api/session").json()["seats"]
    assert [(seat["name"], seat["pin"]) for seat in seats] == [("Ada", True), ("Ben", False)]
    said = seats[0]["verifier"]
    salt = base64.b64decode(said["salt"])
    assert base64.b64encode(hashlib.pbkdf2_hmac("sha256", b"4711", salt, said["rounds"])).decode() == said["hash"]
    assert seats[1]["verifier"] is None


def test_a_pin_is_four_to_six_digits_and_takes_the_password(ada: Phone) -> None:
    for pin in ("123", "1234567", "12a4", "\u0661\u0662\u0663\u0664", "12 4"):
        assert says(ada.ask("PUT", "/api/me/pin", {"pin": pin, "password": PASSWORD})) == (400, "bad_field")
    assert says(ada.ask("PUT", "/api/me/pin", {"pin": "1234", "password": "no"})) == (400, "wrong_password")
    assert ada.ask("PUT", "/api/me/pin", {"pin": "123456", "password": PASSWORD}).json() == {"pin": True}
    assert ada.ask("PUT", "/api/me/pin", {"pin": "", "password": PASSWORD}).json() == {"pin": False}


def test_a_pin_is_no_secret_that_proves_anything(shared: Phone, people: People) -> None:
    take(shared, people.ada, pin="4711")
    answer = shared.ask("POST", f"/api/farms/{people.farm.id}/invitations", {"role": "owner"})
    assert says(answer) == (403, "password_needed")


def test_her_seat_on_a_shared_phone_is_ended_from_her_own(shared: Phone, people: People) -> None:
    own = Phone(people.farm, people.ada).sign_in()
    seats = own.client.get("/api/me/seats").json()["seats"]
    there = next(seat for seat in seats if not seat["here"])
    assert len(seats) == 2
    assert own.ask("DELETE", f"/api/me/seats/{there['id']}").status_code == 204
    assert take(shared, people.ada, pin="4711").status_code == 404
    assert shared.client.get("/api/session").json()["person"]["name"] == "Ben"
    entry = {**shared.record("doe", "11111111-1111-4111-8111-111111111111", {"name": "Ivy"}), "author": people.ada.pk}
    assert shared.push(entry)[0]["code"] == "not_seated"
    assert Audit.objects.filter(what="session_ended", person=people.ada.pk).exists()


def test_where_she_is_on_the_session_ends_and_the_others_keep_their_seats(shared: Phone, people: People) -> None:
    take(shared, people.ada, pin="4711")
    own = Phone(people.farm, people.ada).sign_in()
    there = next(seat for seat in own.client.get("/api/me/seats").json()["seats"] if not seat["here"])
    own.ask("DELETE", f"/api/me/seats/{there['id']}")
    assert shared.get("changes").status_code == 401
    assert [seat["name"] for seat in shared.client.get("/api/session").json()["seats"]] == ["Ben"]
    assert take(shared, people.ben).status_code == 200


def test_a_session_ended_at_allauths_door_ends_her_place_only(shared: Phone, people: People) -> None:
    take(shared, people.ada, pin="4711")
    own = Phone(people.farm, people.ada).sign_in()
    sessions = own.client.get(f"{AUTH}/auth/sessions").json()["data"]
    there = [one["id"] for one in sessions if not one["is_current"]]
    assert len(there) == 1
    assert own.ask("DELETE", f"{AUTH}/auth/sessions", {"sessions": there}).status_code == 200
    assert shared.get("changes").status_code == 401
    assert take(shared, people.ada, pin="4711").status_code == 404
    assert take(shared, people.ben).status_code == 200


def test_nobody_ends_the_seats_of_others(shared: Phone, people: People) -> None:
    seat = Seat.objects.get(person=people.ada)
    assert shared.ask("DELETE", f"/api/me/seats/{seat.pk}").status_code == 404
    assert take(shared, people.ada, pin="4711").status_code == 200


def test_this_phones_own_seat_is_left_by_signing_out(ada: Phone) -> None:
    seat = ada.client.get("/api/me/seats").json()["seats"][0]
    assert says(ada.ask("DELETE", f"/api/me/seats/{seat['id']}")) == (409, "here")
    ada.ask("DELETE", "/api/session")
    assert not Seat.objects.exists()


def test_a_push_asks_for_seats_once_however_many_are_on_the_farm(shared: Phone) -> None:
    shared.push()
    body, token = shared.body([]), shared.token
    with CaptureQueriesContext(connection) as asked:
        shared.send(f"/api/farms/{shared.farm.id}/events", body, token=token)
    tables = [query["sql"].partition("FROM")[2].split()[0].strip('"') for query in asked.captured_queries]
    assert tables[:3] == ["django_session", "herd_person", "herd_membership"]
    assert not {"herd_seat", "usersessions_usersession"} & set(tables)
    entry = shared.record("doe", "11111111-1111-4111-8111-111111111111", {"name": "Ivy"})
    with CaptureQueriesContext(connection) as asked:
        shared.send(f"/api/farms/{shared.farm.id}/events", shared.body([entry]), token=token)
    assert sum("herd_seat" in query["sql"] for query in asked.captured_queries) == 1


def rule_of(phone: Phone, person: Any) -> dict[str, Any]:
    """What only an owner may say, with her name on it."""
    return {**phone.record("rules", phone.farm.id, {"level_pm": 90}), "author": person.pk}


def test_with_a_pin_nobody_else_on_the_phone_writes_in_her_name(shared: Phone, people: People) -> None:
    entry = rule_of(shared, people.ada)
    answer = shared.push(entry)[0]
    assert (answer["st"], answer["code"]) == ("rejected", "not_seated"), "which a phone keeps and sends again"
    assert not Event.objects.exists()
    assert take(shared, people.ada, pin="4711").status_code == 200
    assert states(shared.push(entry)) == ["ok"]


def test_a_locked_place_vouches_for_nobody_until_her_password_opens_it(shared: Phone, people: People) -> None:
    take(shared, people.ada, pin="4711")
    assert shared.ask("PUT", "/api/me/pin", {"pin": "", "password": PASSWORD}).json() == {"pin": False}
    take(shared, people.ben)
    assert states(shared.push(rule_of(shared, people.ada))) == ["ok"], "without a PIN anybody here may be her"
    Seat.objects.filter(person=people.ada).update(wrong_pins=MOST_WRONG_PINS)
    entry = rule_of(shared, people.ada)
    assert shared.push(entry)[0]["code"] == "not_seated"
    shared.person = people.ada
    assert states(shared.sign_in().push(entry)) == ["ok"]


def test_of_her_with_a_pin_what_is_brought_in_a_file_waits_for_an_owner(shared: Phone, people: People) -> None:
    entry = rule_of(shared, people.ada)
    answers = shared.push_raw(shared.body([entry], carried=True)).json()["answers"]
    assert [one["code"] for one in answers] == ["carried"]
    assert Quarantine.objects.get().event_id == entry["id"]
    assert not Event.objects.exists()


def told(person: Any) -> list[str]:
    """Of whom and what, with nothing anybody typed."""
    rows = Audit.objects.filter(person=person.pk, what__in=("wrong_pin", "seat_taken")).order_by("id")
    assert not [row.detail for row in rows if "4711" in row.detail or "0000" in row.detail]
    return [row.what for row in rows]


def test_the_owner_reads_of_wrong_pins_and_once_a_day_that_a_place_was_taken(shared: Phone, people: People) -> None:
    take(shared, people.ada, pin="0000")
    assert told(people.ada) == ["wrong_pin"]
    assert not told(people.ben)
    for _ in range(2):
        take(shared, people.ada, pin="4711")
        take(shared, people.ben)
    assert (told(people.ada), told(people.ben)) == (["wrong_pin", "seat_taken"], ["seat_taken"])
    Audit.objects.filter(what="seat_taken").update(at=timezone.now() - timedelta(days=1, minutes=1))
    take(shared, people.ada, pin="4711")
    assert told(people.ada) == ["wrong_pin", "seat_taken", "seat_taken"]
    for _ in range(MOST_WRONG_PINS + 3):
        take(shared, people.ben)
        take(shared, people.ada, pin="0000")
    assert told(people.ada).count("wrong_pin") == 1 + MOST_WRONG_PINS, "a locked place is tried no more"
