"""A phone that several people use: who has signed in on it takes over without a password, and nobody else."""

from __future__ import annotations

from typing import Any

import pytest

from herd.models import Event, Person
from tests.people import PASSWORD, People
from tests.phones import Phone, new_id, states

OTHER_PASSWORD = "dry gloves at noon"


def take(phone: Phone, person: Person, token: str | None = None) -> Any:
    headers = {"X-CSRFToken": phone.token if token is None else token}
    body = {"person": person.pk}
    return phone.client.put("/api/session", body, content_type="application/json", headers=headers)


def leave(phone: Phone, person: Person) -> Any:
    return phone.client.delete(f"/api/session?person={person.pk}", headers={"X-CSRFToken": phone.token})


def on(phone: Phone) -> str:
    person = phone.client.get("/api/session").json()["person"]
    return str(person["name"]) if person else ""


@pytest.fixture
def shared(people: People) -> Phone:
    """Ada signed in on it, then Ben, who is on."""
    phone = Phone(people.farm, people.ada).sign_in()
    phone.person = people.ben
    return phone.sign_in()


def test_who_signed_in_before_is_on_again_without_a_password(shared: Phone, people: People) -> None:
    assert on(shared) == "Ben"
    answer = take(shared, people.ada)
    assert (answer.status_code, answer.json()["person"]["name"]) == (200, "Ada")
    assert [farm["role"] for farm in answer.json()["farms"]] == ["owner"]
    assert take(shared, people.ben).json()["person"]["name"] == "Ben"


def test_each_entry_has_the_author_who_was_on(shared: Phone, people: People) -> None:
    doe = new_id()
    assert states(shared.push(shared.record("doe", doe, {"name": "Ivy"}))) == ["ok"]
    take(shared, people.ada)
    shared.person = people.ada
    assert states(shared.push(shared.event("note", doe, {"text": "limps"}))) == ["ok"]
    assert dict(Event.objects.values_list("kind", "author")) == {"doe": people.ben.pk, "note": people.ada.pk}


def test_who_never_signed_in_here_is_not_let_in(shared: Phone, people: People) -> None:
    answer = take(shared, people.cleo)
    assert (answer.status_code, answer.json()["code"], on(shared)) == (404, "not_here", "Ben")
    nobody = Phone(people.farm, people.ada)
    assert take(nobody, people.ada).status_code == 404


def test_taking_over_needs_the_token_and_changes_it(shared: Phone, people: People) -> None:
    before = shared.token
    assert take(shared, people.ada, token="x" * 32).status_code == 403
    take(shared, people.ada, token=before)
    assert take(shared, people.ben, token=before).status_code == 403


def test_who_signs_out_cannot_come_back_without_a_password(shared: Phone, people: People) -> None:
    take(shared, people.ada)
    assert leave(shared, people.ada).json()["person"] is None
    assert take(shared, people.ada).status_code == 404
    assert take(shared, people.ben).json()["person"]["name"] == "Ben"


def test_signing_somebody_else_out_leaves_who_is_on(shared: Phone, people: People) -> None:
    assert leave(shared, people.ada).json()["person"]["name"] == "Ben"
    assert take(shared, people.ada).status_code == 404


def test_a_new_password_ends_every_seat(shared: Phone, people: People) -> None:
    people.ada.set_password(OTHER_PASSWORD)
    people.ada.save()
    assert take(shared, people.ada).status_code == 404
    shared.person = people.ada
    assert on(shared.sign_in(OTHER_PASSWORD)) == "Ada"


def test_nobody_who_was_shut_out_takes_a_seat(shared: Phone, people: People) -> None:
    Person.objects.filter(pk=people.ada.pk).update(is_active=False)
    assert take(shared, people.ada).status_code == 404


@pytest.mark.parametrize("body", [{}, {"person": 7}, {"person": ""}, []])
def test_a_seat_of_nobody_is_400(shared: Phone, body: Any) -> None:
    answer = shared.client.put(
        "/api/session", body, content_type="application/json", headers={"X-CSRFToken": shared.token}
    )
    assert answer.status_code == 400


def test_a_wrong_password_takes_no_seat(shared: Phone, people: People) -> None:
    body = {"name": "Cleo", "password": f"not {PASSWORD}"}
    assert shared.send("/api/session", body).status_code == 400
    assert take(shared, people.cleo).status_code == 404
