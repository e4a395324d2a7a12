"""A phone that several people use: who has signed in on it takes over without a password, and nobody else."""

from __future__ import annotations

from typing import Any

import pytest

from herd.models import Event, Membership, Person
from herd.models.farm import ADVISER
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


def carried(phone: Phone, author: Person, device: str = "") -> tuple[str, str]:
    """The answer to an entry with somebody's name on it, sent by whoever is on."""
    entry = phone.record("doe", new_id(), {"name": "Ivy"})
    answer = phone.push({**entry, "author": author.pk, "device": device or phone.device})[0]
    return answer["st"], answer["code"]


def test_a_phone_carries_the_entries_of_all_who_have_a_seat_on_it(shared: Phone, people: People) -> None:
    assert on(shared) == "Ben"
    assert carried(shared, people.ada) == ("ok", "")
    take(shared, people.ada)
    assert carried(shared, people.ben) == ("ok", "")
    # Who a phone says it is proves nothing, and hinders nothing.
    assert carried(shared, people.ben, device=new_id()) == ("ok", "")


def test_nobody_is_anybody_else_by_the_name_of_a_phone(people: People) -> None:
    """Her device and her name stand in every entry she ever sent: whoever reads them is not her."""
    ada, cleo = Phone(people.farm, people.ada).sign_in(), Phone(people.farm, people.cleo).sign_in()
    ada.push(ada.record("doe", new_id(), {"name": "Ivy"}))
    stolen = {**ada.record("rules", people.farm.id, {"level_pm": 90})}
    for device in (ada.device, cleo.device):
        answer = cleo.push_raw(cleo.body([stolen], device=device)).json()["answers"][0]
        assert (answer["st"], answer["code"]) == ("rejected", "not_seated")
        assert answer["why"] == "Whoever recorded this must be on at this phone, signed in, to send it."
    assert not Event.objects.filter(kind="rules").exists()


def test_what_somebody_recorded_who_has_signed_out_waits_for_her(shared: Phone, people: People) -> None:
    entry = {**shared.record("doe", new_id(), {"name": "Ivy"}), "author": people.ada.pk}
    leave(shared, people.ada)
    assert shared.push(entry)[0]["code"] == "not_seated"
    shared.person = people.ada
    shared.sign_in()
    assert states(shared.push(entry)) == ["ok"]


def test_with_a_new_password_nothing_is_carried_until_she_signs_in_again(shared: Phone, people: People) -> None:
    people.ada.set_password(OTHER_PASSWORD)
    people.ada.save()
    assert carried(shared, people.ada) == ("rejected", "not_seated")


def test_a_seat_gives_nobody_a_place_on_the_farm(shared: Phone, people: People) -> None:
    Membership.objects.filter(person=people.ada).delete()
    assert carried(shared, people.ada) == ("rejected", "not_member")
    Membership.objects.create(farm=people.farm, person=people.ada, role=ADVISER)
    assert carried(shared, people.ada) == ("rejected", "not_allowed")


def test_a_new_secret_key_ends_no_seat_while_the_old_one_is_named(shared: Phone, people: People, settings: Any) -> None:
    old = settings.SECRET_KEY
    settings.SECRET_KEY, settings.SECRET_KEY_FALLBACKS = "another", [old]
    assert take(shared, people.ada).json()["person"]["name"] == "Ada"
    settings.SECRET_KEY_FALLBACKS = []
    assert take(shared, people.ben).status_code == 404


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


def test_who_signed_in_before_browsers_were_named_stays_in_and_keeps_her_seat(people: People) -> None:
    phone = Phone(people.farm, people.ben).sign_in()
    store: Any = phone.client.session
    store["_auth_user_backend"] = "django.contrib.auth.backends.ModelBackend"
    store["seats"] = {person.pk: person.get_session_auth_hash() for person in (people.ada, people.ben)}
    for name in ("browser", "account_authentication_methods"):
        del store[name]
    store.save()
    assert phone.get("changes").status_code == 200
    assert carried(phone, people.ada) == ("ok", "")
    assert take(phone, people.ada).json()["person"]["name"] == "Ada"
    assert take(phone, people.ben).json()["person"]["name"] == "Ben"
