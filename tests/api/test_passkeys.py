"""Passkeys: one opens the account by itself, or after the password where she wants both."""

from __future__ import annotations

from typing import Any

import pytest
from allauth.mfa.models import Authenticator

from api.account import mfa
from herd.models import Audit, Person
from tests.people import PASSWORD, People
from tests.phones import Phone
from tests.support.passkey import Passkey

AUTH = "/api/auth/browser/v1"


def says(answer: Any) -> tuple[int, str]:
    return answer.status_code, answer.json().get("code", "")


def done(what: str, person: Person) -> bool:
    return Audit.objects.filter(what=what, person=person.pk).exists()


def add_key(phone: Phone) -> Passkey:
    key, path = Passkey(host="testserver", origin="http://testserver"), f"{AUTH}/account/authenticators/webauthn"
    assert says(phone.client.get(f"{path}?passwordless")) == (401, "password_needed")
    assert phone.send(f"{AUTH}/auth/reauthenticate", {"password": PASSWORD}).status_code == 200
    options = phone.client.get(f"{path}?passwordless").json()["data"]["creation_options"]
    answer = phone.send(path, {"name": "phone", "credential": key.made(options)})
    assert answer.status_code == 200, answer.content
    return key


def sign_in_by(key: Passkey, phone: Phone) -> Any:
    options = phone.client.get(f"{AUTH}/auth/webauthn/login").json()["data"]["request_options"]
    return phone.send(f"{AUTH}/auth/webauthn/login", {"credential": key.signed(options)})


def test_a_passkey_opens_the_account_by_itself(ada: Phone, people: People) -> None:
    key = add_key(ada)
    assert done("passkey_added", people.ada)
    phone = Phone(people.farm, people.ada)
    assert sign_in_by(key, phone).status_code == 200
    assert phone.client.get("/api/session").json()["person"]["name"] == "Ada"
    assert phone.ask("GET", f"/api/farms/{people.farm.id}/members").status_code == 200
    # It is proof enough for what counts for good.
    body = {"role": "family"}
    assert phone.ask("PATCH", f"/api/farms/{people.farm.id}/members/{people.cleo.pk}", body).status_code == 200


def test_by_passkey_too_those_who_share_the_phone_keep_their_seats(ada: Phone, people: People) -> None:
    key = add_key(ada)
    shared = Phone(people.farm, people.ben).sign_in()
    assert sign_in_by(key, shared).status_code == 200
    said = shared.client.get("/api/session").json()
    assert [seat["name"] for seat in said["seats"]] == ["Ada", "Ben"]
    invitations = f"/api/farms/{people.farm.id}/invitations"
    assert shared.ask("POST", invitations, {"role": "helper"}).status_code == 201
    assert shared.ask("PUT", "/api/session", {"person": people.ben.pk}).json()["person"]["name"] == "Ben"


def test_a_strange_key_opens_nothing(people: People) -> None:
    key, phone = Passkey(host="testserver", origin="http://testserver"), Phone(people.farm, people.ada)
    key.user = ""
    assert sign_in_by(key, phone).status_code == 400
    assert phone.client.get("/api/session").json()["person"] is None


def wrong_ones(person: Person) -> list[str]:
    return list(Audit.objects.filter(what="wrong_passkey", person=person.pk).values_list("detail", flat=True))


def test_a_wrong_passkey_is_written_down_at_each_door(ada: Phone, people: People) -> None:
    key, other = add_key(ada), Passkey(host="testserver", origin="http://testserver")
    other.user = key.user
    assert sign_in_by(other, Phone(people.farm, people.ada)).status_code == 400
    assert wrong_ones(people.ada) == ["from 127.0.0.1"]
    ada.ask("PUT", "/api/me/second-step", {"on": True, "password": PASSWORD})
    phone = Phone(people.farm, people.ada)
    phone.send("/api/session", {"name": "Ada", "password": PASSWORD})
    for which, at in ((phone, "authenticate"), (ada, "reauthenticate")):
        before = len(wrong_ones(people.ada))
        path = f"{AUTH}/auth/webauthn/{at}"
        options = which.client.get(path).json()["data"]["request_options"]
        assert which.send(path, {"credential": other.signed(options)}).status_code == 400
        assert len(wrong_ones(people.ada)) == before + 1, at
        # One that was asked for in another session is late, not wrong.
        which.send(path, {"credential": key.signed(options)})
        which.send(path, {"credential": key.signed(options)})
        assert len(wrong_ones(people.ada)) == before + 1, at
    assert Audit.objects.filter(what="wrong_passkey").count() == 3


@pytest.mark.parametrize("handle", ["", "AA", "_w", "bm9ib2R5", 7, None, ["x"]])
def test_of_a_passkey_nobody_has_nothing_is_written_down(people: People, handle: Any) -> None:
    key, phone = Passkey(host="testserver", origin="http://testserver"), Phone(people.farm, people.ada)
    key.user = handle
    assert sign_in_by(key, phone).status_code == 400
    assert not Audit.objects.filter(what="wrong_passkey").exists()


def test_whoever_goes_on_with_wrong_passkeys_does_not_fill_the_list(ada: Phone, people: People) -> None:
    key, other = add_key(ada), Passkey(host="testserver", origin="http://testserver")
    other.user = key.user
    for _ in range(mfa.WRITTEN_DOWN.most + 2):
        assert sign_in_by(other, Phone(people.farm, people.ada)).status_code == 400
    assert len(wrong_ones(people.ada)) == mfa.WRITTEN_DOWN.most


def test_a_key_added_leaves_the_password_good_until_she_wants_both(ada: Phone, people: People) -> None:
    """The phone in the barn cannot use the key that lies in her pocket."""
    assert says(ada.ask("PUT", "/api/me/second-step", {"on": True, "password": PASSWORD})) == (409, "no_passkey")
    key = add_key(ada)
    assert Phone(people.farm, people.ada).sign_in().get("changes").status_code == 200
    assert ada.ask("PUT", "/api/me/second-step", {"on": True, "password": PASSWORD}).status_code == 200
    phone = Phone(people.farm, people.ada)
    body = {"name": "Ada", "password": PASSWORD}
    assert says(phone.send("/api/session", body)) == (401, "second_step")
    assert phone.client.get("/api/session").json()["person"] is None
    options = phone.client.get(f"{AUTH}/auth/webauthn/authenticate").json()["data"]["request_options"]
    assert phone.send(f"{AUTH}/auth/webauthn/authenticate", {"credential": key.signed(options)}).status_code == 200
    assert phone.client.get("/api/session").json()["person"]["name"] == "Ada"
    # With the key lost, one of the codes that come with it will do.
    codes = f"{AUTH}/account/authenticators/recovery-codes"
    spare = ada.send(codes, {}).json()["data"]["unused_codes"][0]
    lost = Phone(people.farm, people.ada)
    assert says(lost.send("/api/session", body)) == (401, "second_step")
    assert lost.send(f"{AUTH}/auth/2fa/authenticate", {"code": spare}).status_code == 200
    assert lost.get("changes").status_code == 200


def test_a_key_is_taken_away(ada: Phone, people: People) -> None:
    key = add_key(ada)
    row = Authenticator.objects.get(user=people.ada, type="webauthn")
    assert ada.ask("DELETE", f"{AUTH}/account/authenticators/webauthn", {"authenticators": [row.pk]}).status_code == 200
    assert done("passkey_removed", people.ada)
    assert sign_in_by(key, Phone(people.farm, people.ada)).status_code == 400


def test_a_key_is_not_added_on_a_seat_taken_without_a_secret(people: People) -> None:
    phone = Phone(people.farm, people.ada).sign_in()
    phone.person = people.cleo
    phone.sign_in().ask("PUT", "/api/session", {"person": people.ada.pk})
    answer = phone.client.get(f"{AUTH}/account/authenticators/webauthn?passwordless")
    assert says(answer) == (401, "password_needed")
