"""Making an account, getting in, and getting in again when the password is forgotten."""

from __future__ import annotations

from typing import Any

import pytest
from django.contrib.auth import authenticate
from django.test import Client

from api.account import doors
from herd.models import Audit, Farm, Person, Tries
from tests.people import PASSWORD, People
from tests.phones import Phone

AUTH = "/api/auth/browser/v1"
NEW = {"name": "Effie", "password": "lantern over the gate"}
OTHER = "thaw before the river"


@pytest.fixture
def nobody(people: People) -> Phone:
    return Phone(people.farm, people.ada)


def says(answer: Any) -> tuple[int, str]:
    return answer.status_code, answer.json().get("code", "")


def done(what: str, person: Person) -> bool:
    return Audit.objects.filter(what=what, person=person.pk).exists()


def test_who_makes_an_account_is_in_and_has_a_code_to_print(nobody: Phone) -> None:
    answer = nobody.send("/api/sign-up", NEW)
    assert (answer.status_code, answer.json()["person"]["name"]) == (201, "Effie")
    assert len(answer.json()["recovery_code"].replace("-", "")) == 20
    assert nobody.client.get("/api/session").json()["account"]["recovery_code"] is True
    assert nobody.send("/api/farms", {"name": "Brook", "zone": "UTC"}).status_code == 201


@pytest.mark.parametrize(
    ("body", "where", "code"),
    [
        ({"name": "ada"}, "name", "username_taken"),
        ({"name": "A\u200bda\ufeff"}, "name", "username_taken"),
        ({"name": "\u2800\u3164"}, "name", "bad_name"),
        ({"name": "A\u202eda"}, "name", "bad_name"),
        ({"name": "A\u0007da"}, "name", "bad_name"),
        ({"name": " \u200b "}, "name", "bad_name"),
        ({"name": "x" * 61}, "name", "max_length"),
        ({"name": ""}, "name", "bad_field"),
        ({"password": "short"}, "password", "password_too_short"),
        ({"password": "password1"}, "password", "password_too_common"),
        ({"email": "no address"}, "email", "invalid"),
    ],
)
def test_what_cannot_be_says_where_and_what_to_do(nobody: Phone, body: Any, where: str, code: str) -> None:
    answer = nobody.send("/api/sign-up", {**NEW, **body})
    assert says(answer) == (400, code)
    assert answer.json()["where"] == where
    assert answer.json()["message"].endswith(".")
    assert Person.objects.count() == 4


@pytest.mark.parametrize("path", ["/api/sign-up", f"{AUTH}/auth/signup"])
def test_where_one_must_be_invited_nobody_else_makes_an_account(nobody: Phone, settings: Any, path: str) -> None:
    settings.SIGN_UP = "invited"
    assert says(nobody.send(path, {**NEW, "username": "Effie"}))[0] == 403
    assert Person.objects.count() == 4


def test_a_long_password_is_taken_whole(nobody: Phone) -> None:
    long = "0123456789abcdef " * 20 + "end"
    assert nobody.send("/api/sign-up", {**NEW, "password": long}).status_code == 201
    assert authenticate(None, username="Effie", password=long)
    assert not authenticate(None, username="Effie", password=long[:-1])


def test_name_or_mail_address_lets_her_in(nobody: Phone) -> None:
    nobody.send("/api/sign-up", {**NEW, "email": "effie@example.org"})
    for name in ("effie", " effie ", "effie@example.org"):
        phone = Phone(nobody.farm, nobody.person)
        answer = phone.send("/api/session", {"name": name, "password": NEW["password"]})
        assert answer.json()["person"]["name"] == "Effie"


def test_signing_in_at_allauths_door_takes_a_seat_like_ours(people: People) -> None:
    phone = Phone(people.farm, people.ada)
    answer = phone.send(f"{AUTH}/auth/login", {"username": "Ada", "password": PASSWORD})
    assert answer.status_code == 200
    assert [seat["name"] for seat in phone.client.get("/api/session").json()["seats"]] == ["Ada"]
    assert done("sign_in", people.ada)
    assert phone.get("changes").status_code == 200
    assert phone.ask("DELETE", f"{AUTH}/auth/session").status_code == 401
    assert phone.client.get("/api/session").json()["seats"] == []
    assert done("sign_out", people.ada)


def test_the_printed_code_sets_a_new_password_once_and_ends_everything(nobody: Phone) -> None:
    code = nobody.send("/api/sign-up", NEW).json()["recovery_code"]
    other = Phone(nobody.farm, nobody.person)
    body = {"name": "effie", "code": code.lower().replace("-", " "), "password": OTHER}
    answer = other.send("/api/recovery", body)
    assert answer.status_code == 200
    assert nobody.client.get("/api/session").json()["person"] is None
    assert nobody.client.get("/api/session").json()["seats"] == []
    assert says(other.send("/api/recovery", body)) == (400, "wrong_code")
    assert other.send("/api/session", {"name": "Effie", "password": OTHER}).status_code == 200
    following = {**body, "code": answer.json()["recovery_code"]}
    assert other.send("/api/recovery", following).status_code == 200
    effie = Person.objects.get(name="Effie")
    assert done("password_reset", effie)
    assert following["code"] not in effie.recovery


def test_a_code_is_of_no_use_to_somebody_else_or_for_a_weak_password(nobody: Phone) -> None:
    code = nobody.send("/api/sign-up", NEW).json()["recovery_code"]
    wrong = {"name": "Ada", "code": code, "password": OTHER}
    nobody_there = {**wrong, "name": "Nobody"}
    assert says(nobody.send("/api/recovery", wrong)) == says(nobody.send("/api/recovery", nobody_there))
    assert says(nobody.send("/api/recovery", {**wrong, "name": "Effie", "password": "short"})) == (400, "weak_password")
    assert nobody.send("/api/recovery", {**wrong, "name": "Effie"}).status_code == 200


def test_who_never_had_a_code_is_not_opened_by_an_empty_one(nobody: Phone) -> None:
    for code in ("", "-", " "):
        assert nobody.send("/api/recovery", {"name": "Ada", "code": code, "password": OTHER}).status_code == 400
    assert authenticate(None, username="Ada", password=PASSWORD)


def test_another_code_takes_the_password_and_ends_the_old_one(ada: Phone) -> None:
    assert says(ada.send("/api/me/recovery-code", {"password": OTHER})) == (400, "wrong_password")
    first, second = (ada.send("/api/me/recovery-code", {"password": PASSWORD}).json()["recovery_code"] for _ in "ab")
    body = {"name": "Ada", "password": OTHER}
    assert says(ada.send("/api/recovery", {**body, "code": first})) == (400, "wrong_code")
    assert ada.send("/api/recovery", {**body, "code": second}).status_code == 200


def test_a_new_password_keeps_this_seat_and_ends_the_others(ada: Phone, people: People) -> None:
    other = Phone(people.farm, people.ada).sign_in()
    body = {"current_password": PASSWORD, "new_password": OTHER}
    assert ada.send(f"{AUTH}/account/password/change", body).status_code == 200
    said = ada.client.get("/api/session").json()
    assert [seat["name"] for seat in said["seats"]] == ["Ada"]
    assert said["person"]["name"] == "Ada"
    assert other.client.get("/api/session").json()["person"] is None
    assert done("password_changed", people.ada)


def test_without_a_mail_server_nothing_is_said_to_be_sent(nobody: Phone) -> None:
    assert says(nobody.send(f"{AUTH}/auth/password/request", {"email": "effie@example.org"})) == (409, "no_mail")
    assert nobody.send(f"{AUTH}/auth/code/request", {"email": "effie@example.org"}).status_code == 404


@pytest.mark.parametrize("path", ["/api/session", f"{AUTH}/auth/login", "/api/sign-up", "/api/recovery"])
@pytest.mark.parametrize(
    "body",
    [
        b"[" * 50_000 + b"]" * 50_000,
        b'{"name":"\\ud800"}',
        b'{"name":"a\\u0000"}',
        b'{"a":' * 60 + b"1" + b"}" * 60,
    ],
)
def test_deep_or_broken_bodies_are_400(nobody: Phone, path: str, body: bytes) -> None:
    assert says(nobody.send(path, body)) == (400, "unreadable")


def test_nothing_of_all_this_is_a_secret_in_a_table(nobody: Phone) -> None:
    code = nobody.send("/api/sign-up", NEW).json()["recovery_code"]
    nobody.send("/api/session", {"name": NEW["password"], "password": "typed in the wrong line"})
    kept = [*Audit.objects.values_list("detail", flat=True), *Tries.objects.values_list("key", flat=True)]
    assert kept
    assert not [text for text in kept if NEW["password"] in text or code in text or code.replace("-", "") in text]


def test_farms_have_names_too(ada: Phone) -> None:
    for name in ("\u202eHill", "A\u0007B", "\u200b", "\u2800", "\u3164"):
        answer = ada.send("/api/farms", {"name": name, "zone": "UTC"})
        assert says(answer) == (400, "bad_field")
    assert Farm.objects.count() == 2


def test_the_doors_need_the_token(people: People) -> None:
    client = Client(enforce_csrf_checks=True)
    for path in (
        "/api/sign-up",
        "/api/recovery",
        "/api/invitations/look",
        "/api/invitations/accept",
        f"{AUTH}/auth/login",
    ):
        answer = client.post(path, {}, content_type="application/json")
        assert (path, answer.status_code, answer.json()["code"]) == (path, 403, "csrf")


def test_signing_up_is_counted_by_address(nobody: Phone) -> None:
    for n in range(doors.SIGN_UPS.most):
        nobody.send("/api/sign-up", {**NEW, "name": f"Effie {n}", "password": "short"})
    assert says(nobody.send("/api/sign-up", NEW)) == (429, "busy")


def test_asking_which_doors_there_are_is_no_sign_up(nobody: Phone) -> None:
    for _ in range(doors.SIGN_UPS.most + 1):
        assert nobody.client.get(f"{AUTH}/auth/session").status_code == 401
        assert nobody.client.get(f"{AUTH}/config").status_code == 200
    assert nobody.send("/api/sign-up", NEW).status_code == 201


def test_allauths_own_door_counts_a_sign_up_too(nobody: Phone) -> None:
    for _ in range(doors.SIGN_UPS.most):
        nobody.send("/api/sign-up", {**NEW, "password": "short"})
    said = nobody.send(f"{AUTH}/auth/signup", {"username": NEW["name"], "password": NEW["password"]})
    assert says(said) == (429, "busy")
