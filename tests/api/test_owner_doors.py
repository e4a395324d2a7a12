"""Doors only an owner goes through, each knocked at by everybody else."""

from __future__ import annotations

from typing import Any

import pytest
from django.utils import timezone

from herd.models import Audit, Invitation, Membership
from tests.people import People
from tests.phones import Phone, new_id
from tests.security.doors import FARM_DOORS, OWNERS, password

# Those that ask for the password again have their own: tests/api/test_leaving.py.
OWNER_DOORS = [(door.method, door.route) for door in FARM_DOORS if door.who == OWNERS and door.body is not password]
DOORS = pytest.mark.parametrize(("method", "route"), OWNER_DOORS)
BODY = {"role": "helper"}


def knock(phone: Phone, method: str, route: str, farm_id: str, child: str = "") -> Any:
    path = "/api/" + route.replace("<str:farm_id>", farm_id).replace("<int:row>", "1")
    path = path.replace("<str:invitation>", child or new_id()).replace("<str:person>", child or new_id())
    return phone.ask(method, path, BODY if method in ("POST", "PATCH") else None)


@DOORS
def test_a_stranger_hears_what_a_farm_that_is_not_there_says(people: People, method: str, route: str) -> None:
    dov = Phone(people.farm, people.dov).sign_in()
    other, nowhere = (knock(dov, method, route, farm) for farm in (people.farm.id, new_id()))
    assert other.status_code == nowhere.status_code == 404
    assert other.content == nowhere.content


@DOORS
def test_nobody_signed_in_is_401(people: People, method: str, route: str) -> None:
    answer = knock(Phone(people.farm, people.ada), method, route, people.farm.id)
    assert (answer.status_code, answer.json()["code"]) == (401, "sign_in")


@DOORS
@pytest.mark.parametrize("role", ["family", "helper", "adviser"])
def test_who_is_no_owner_is_not_let_in(people: People, method: str, route: str, role: str) -> None:
    Membership.objects.filter(person=people.ben, farm=people.farm).update(role=role)
    ben = Phone(people.farm, people.ben).sign_in()
    answer = knock(ben, method, route, people.farm.id, people.ben.pk)
    assert (answer.status_code, answer.json()["code"]) == (403, "not_allowed")
    assert Membership.objects.get(person=people.ben, farm=people.farm).role == role


@DOORS
def test_an_owner_who_was_put_off_the_farm_is_not_let_in(people: People, method: str, route: str) -> None:
    Membership.objects.filter(person=people.ben, farm=people.farm).update(role="owner")
    ben = Phone(people.farm, people.ben).sign_in()
    Membership.objects.filter(person=people.ben, farm=people.farm).update(gone_at=timezone.now())
    answer = knock(ben, method, route, people.farm.id, people.ada.pk)
    assert (answer.status_code, answer.json()["code"]) == (403, "removed")


@DOORS
def test_what_belongs_to_another_farm_is_not_found_in_this_one(people: People, method: str, route: str) -> None:
    """Dov owns his farm: it gives him no hold on the people and invitations of another."""
    if "<" not in route.replace("<str:farm_id>", ""):
        assert (
            knock(Phone(people.dovs_farm, people.dov).sign_in(), method, route, people.dovs_farm.id).status_code < 300
        )
        return
    ada, dov = Phone(people.farm, people.ada).sign_in(), Phone(people.dovs_farm, people.dov).sign_in()
    made = ada.ask("POST", f"/api/farms/{people.farm.id}/invitations", BODY).json()
    child = made["id"] if "invitation>" in route else people.cleo.pk
    assert knock(dov, method, route, people.dovs_farm.id, child).status_code == 404
    assert Invitation.objects.get().revoked_at is None
    assert Membership.objects.get(person=people.cleo).gone_at is None


def test_on_a_seat_taken_without_a_secret_nothing_is_changed_for_good(people: People) -> None:
    """A helper who takes the owner's seat on the barn's phone makes nobody an owner."""
    phone = Phone(people.farm, people.ada).sign_in()
    phone.person = people.cleo
    phone.sign_in()
    assert phone.ask("PUT", "/api/session", {"person": people.ada.pk}).json()["person"]["name"] == "Ada"
    farm, cleo = f"/api/farms/{people.farm.id}", people.cleo.pk
    for method, path, body in (
        ("PATCH", f"{farm}/members/{cleo}", {"role": "owner"}),
        ("POST", f"{farm}/invitations", {"role": "owner"}),
        ("DELETE", f"{farm}/members/{people.ben.pk}", None),
        ("POST", f"{farm}/leave", None),
        ("POST", "/api/auth/browser/v1/account/email", {"email": "cleo@example.org"}),
    ):
        answer = phone.ask(method, path, body)
        assert answer.status_code in (401, 403)
        assert answer.json()["code"] == "password_needed"
    again = phone.ask("POST", "/api/auth/browser/v1/auth/reauthenticate", {"password": "wet gloves at dawn"})
    assert again.status_code == 200
    assert phone.ask("PATCH", f"{farm}/members/{cleo}", {"role": "family"}).status_code == 200


def test_an_owner_reads_who_did_what_a_page_at_a_time(people: People) -> None:
    ada = Phone(people.farm, people.ada).sign_in()
    ada.ask("PATCH", f"/api/farms/{people.farm.id}/members/{people.cleo.pk}", {"role": "family"})
    path = f"/api/farms/{people.farm.id}/audit"
    rows = ada.client.get(path).json()["rows"]
    assert [row["what"] for row in rows] == [
        "role_changed",
        "sign_in",
        "member_set",
        "member_set",
        "member_set",
        "farm_made",
    ]
    changed = {key: rows[0][key] for key in ("name", "about", "detail")}
    assert changed == {"name": "Ada", "about": "Cleo", "detail": "helper family"}
    assert ada.client.get(path, {"before": rows[1]["id"]}).json()["rows"] == rows[2:]
    Audit.objects.bulk_create(Audit(farm=people.farm, what="x") for _ in range(60))
    assert ada.client.get(path).json()["more"] is True
