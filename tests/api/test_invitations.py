"""An invitation by link, picture or typed code: who gets in, as what, once, and for how long."""

from __future__ import annotations

import re
from datetime import timedelta
from typing import Any
from xml.etree import ElementTree

import pytest
from django.utils import timezone

from herd.models import Audit, Invitation, Membership, Person
from herd.services.invitations import A_DAY, GUARDS, MOST_WRONG
from tests.people import People
from tests.phones import Phone, new_id

LOOK, ACCEPT = "/api/invitations/look", "/api/invitations/accept"
NEW = {"name": "Effie", "password": "lantern over the gate"}
HELPER = {"role": "helper", "whom": "Effie from the mill"}


def days(n: int) -> str:
    return (timezone.now() + timedelta(days=n)).date().isoformat()


def invited(ada: Phone, **asked: Any) -> dict[str, Any]:
    answer = ada.send(f"/api/farms/{ada.farm.id}/invitations", {**HELPER, **asked})
    assert answer.status_code == 201, answer.content
    found = answer.json()
    return {**found, "token": found["link"].partition("#/join/")[2]}


def says(answer: Any) -> tuple[int, str]:
    return answer.status_code, answer.json().get("code", "")


@pytest.fixture
def dov(people: People) -> Phone:
    return Phone(people.farm, people.dov).sign_in()


def test_who_has_the_link_looks_and_takes_the_place(ada: Phone, dov: Phone, people: People) -> None:
    made = invited(ada)
    look = dov.send(LOOK, {"token": made["token"]}).json()
    assert (look["farm"], look["role"], look["made_by"], look["whom"]) == ("Hill", "helper", "Ada", HELPER["whom"])
    assert dov.get("changes").status_code == 404
    answer = dov.send(ACCEPT, {"token": made["token"]})
    assert (answer.status_code, answer.json()["farm"]) == (201, people.farm.id)
    assert [farm["role"] for farm in answer.json()["farms"]] == ["owner", "helper"]
    assert dov.get("changes").status_code == 200
    assert Audit.objects.filter(farm=people.farm, what="joined", person=people.dov.pk).exists()


def test_it_works_once(ada: Phone, dov: Phone, people: People) -> None:
    made = invited(ada)
    assert dov.send(ACCEPT, {"token": made["token"]}).status_code == 201
    effie = Phone(people.farm, Person.objects.make("Effie", NEW["password"])).sign_in(NEW["password"])
    for body in ({"token": made["token"]}, {"code": made["code"]}):
        assert says(effie.send(ACCEPT, body)) == (404, "no_invitation")
    assert ada.client.get(f"/api/farms/{people.farm.id}/invitations").json() == {"invitations": []}


def test_by_the_typed_code_however_it_is_written(ada: Phone, dov: Phone) -> None:
    code = invited(ada)["code"]
    assert re.fullmatch(r"[A-Z0-9]{4}-[A-Z0-9]{4}", code)
    assert not set(code) & set("0O1IL8B5S2ZUV")
    assert dov.send(ACCEPT, {"code": code.lower().replace("-", " ")}).status_code == 201


def test_a_new_person_signs_up_with_it_in_one_call(ada: Phone, people: People, settings: Any) -> None:
    settings.SIGN_UP = "invited"
    made, phone = invited(ada), Phone(people.farm, people.ada)
    assert says(phone.send(ACCEPT, {"token": made["token"]})) == (401, "sign_in")
    assert says(phone.send(ACCEPT, {"token": new_id(), "sign_up": NEW})) == (404, "no_invitation")
    assert not Person.objects.filter(name="Effie").exists()
    answer = phone.send(ACCEPT, {"token": made["token"], "sign_up": NEW})
    assert answer.status_code == 201
    assert answer.json()["person"]["name"] == "Effie"
    assert len(answer.json()["recovery_code"]) == 24
    assert phone.get("changes").status_code == 200


def test_a_sign_up_that_cannot_be_leaves_the_invitation_good(ada: Phone, dov: Phone, people: People) -> None:
    made = invited(ada)
    phone = Phone(people.farm, people.ada)
    answer = phone.send(ACCEPT, {"token": made["token"], "sign_up": {**NEW, "name": "Ada"}})
    assert says(answer) == (400, "username_taken")
    assert dov.send(ACCEPT, {"token": made["token"]}).status_code == 201


def test_five_wrong_codes_kill_it_and_a_new_code_wakes_it(ada: Phone, dov: Phone, people: People) -> None:
    made = invited(ada)
    code = made["code"].replace("-", "")
    wrong = code[:3] + "A" * GUARDS
    for _ in range(MOST_WRONG):
        assert says(dov.send(LOOK, {"code": wrong})) == (404, "no_invitation")
    assert says(dov.send(LOOK, {"code": code})) == (404, "no_invitation")
    told = Audit.objects.filter(farm=people.farm, what="wrong_invitation_code")
    assert [(row.person, row.detail) for row in told] == [("", "helper")] * MOST_WRONG
    renewed = ada.send(f"/api/farms/{people.farm.id}/invitations/{made['id']}/code", {}).json()["code"]
    assert dov.send(ACCEPT, {"code": renewed}).status_code == 201


def test_whoever_guesses_codes_is_held_up(ada: Phone, dov: Phone) -> None:
    code = invited(ada)["code"]
    said = [says(dov.send(LOOK, {"code": f"AAAA{n:04}"}))[0] for n in range(12)]
    assert (said[0], said[-1]) == (404, 429)
    assert dov.send(LOOK, {"code": code}).status_code == 429
    assert dov.send(LOOK, {"token": new_id()}).status_code == 404


@pytest.mark.parametrize(
    "over",
    [
        {"until_at": timezone.now() - timedelta(days=1)},
        {"revoked_at": timezone.now()},
        {"used_at": timezone.now()},
    ],
)
def test_what_is_over_opens_nothing(ada: Phone, dov: Phone, over: Any) -> None:
    made = invited(ada)
    Invitation.objects.update(**over)
    for body in ({"token": made["token"]}, {"code": made["code"]}):
        assert says(dov.send(LOOK, body)) == (404, "no_invitation")
        assert says(dov.send(ACCEPT, body)) == (404, "no_invitation")
    assert ada.client.get(f"/api/farms/{ada.farm.id}/invitations").json() == {"invitations": []}


def test_the_code_lives_ten_minutes_and_the_link_a_week(ada: Phone, dov: Phone) -> None:
    made = invited(ada)
    row = Invitation.objects.get()
    assert row.code_until_at is not None
    assert timedelta(minutes=9) < row.code_until_at - timezone.now() <= timedelta(minutes=10)
    assert timedelta(days=6.9) < row.until_at - timezone.now() <= timedelta(days=7)
    Invitation.objects.update(code_until_at=timezone.now())
    assert dov.send(LOOK, {"code": made["code"]}).status_code == 404
    assert dov.send(LOOK, {"token": made["token"]}).status_code == 200


def test_an_owner_sees_what_is_pending_and_takes_it_back(ada: Phone, dov: Phone, people: People) -> None:
    made, path = invited(ada), f"/api/farms/{people.farm.id}/invitations"
    row = ada.client.get(path).json()["invitations"][0]
    assert (row["id"], row["made_by"], row["whom"]) == (made["id"], "Ada", HELPER["whom"])
    assert not {"link", "qr", "code", "token"} & row.keys()
    assert ada.ask("DELETE", f"{path}/{made['id']}").status_code == 204
    assert ada.ask("DELETE", f"{path}/{made['id']}").status_code == 404
    assert dov.send(LOOK, {"token": made["token"]}).status_code == 404


def test_no_secret_is_kept(ada: Phone) -> None:
    made, row = invited(ada), Invitation.objects.values().get()
    code = made["code"].replace("-", "")
    for value in map(str, row.values()):
        assert made["token"] not in value
        assert code not in value
        assert code[3:] not in value
    assert len(made["token"]) >= 22


def test_who_invited_and_was_put_off_the_farm_leaves_no_open_door(ada: Phone, dov: Phone, people: People) -> None:
    Membership.objects.filter(person=people.ben, farm=people.farm).update(role="owner")
    made = invited(Phone(people.farm, people.ben).sign_in(), role="owner")
    ada.ask("DELETE", f"/api/farms/{people.farm.id}/members/{people.ben.pk}")
    assert says(dov.send(ACCEPT, {"token": made["token"]})) == (404, "no_invitation")


def test_who_is_on_the_farm_keeps_the_place_and_the_invitation_stays(ada: Phone, ben: Phone, dov: Phone) -> None:
    made = invited(ada)
    assert says(ben.send(ACCEPT, {"token": made["token"]})) == (409, "on_it_already")
    assert dov.send(ACCEPT, {"token": made["token"]}).status_code == 201


def test_who_was_removed_comes_back_by_a_new_invitation(ada: Phone, people: People) -> None:
    cleo = Phone(people.farm, people.cleo).sign_in()
    ada.ask("DELETE", f"/api/farms/{people.farm.id}/members/{people.cleo.pk}")
    assert cleo.get("changes").status_code == 403
    assert cleo.send(ACCEPT, {"token": invited(ada, role="family")["token"]}).status_code == 201
    assert cleo.get("changes").status_code == 200
    assert Membership.everyone.filter(person=people.cleo, farm=people.farm).count() == 1


@pytest.mark.parametrize(
    ("asked", "where"),
    [
        ({"role": "king"}, "role"),
        ({"role": "adviser", "ends_on": days(9)}, "does"),
        ({"role": "adviser", "does": ["a"]}, "ends_on"),
        ({"role": "family", "ends_on": days(9)}, "ends_on"),
        ({"role": "helper", "does": ["a"]}, "does"),
        ({"role": "helper", "starts_on": days(5), "ends_on": days(3)}, "ends_on"),
        ({"role": "helper", "ends_on": days(-3)}, "ends_on"),
        ({"role": "helper", "ends_on": "someday"}, "ends_on"),
        ({"whom": "\u202eeiffE"}, "whom"),
        ({}, "role"),
    ],
)
def test_what_cannot_be_offered_is_400(ada: Phone, people: People, asked: Any, where: str) -> None:
    answer = ada.send(f"/api/farms/{people.farm.id}/invitations", {**HELPER, **asked} if asked else {})
    assert says(answer) == (400, "bad_field")
    assert answer.json()["where"] == where
    assert not Invitation.objects.exists()


def test_twenty_a_day(ada: Phone, people: People) -> None:
    for _ in range(A_DAY.most):
        invited(ada)
    answer = ada.send(f"/api/farms/{people.farm.id}/invitations", HELPER)
    assert says(answer) == (429, "busy")
    assert int(answer.headers["Retry-After"]) > 3600


def test_the_picture_is_the_link_and_carries_no_style(ada: Phone) -> None:
    made = invited(ada)
    assert "style" not in made["qr"]
    assert "script" not in made["qr"]
    assert ElementTree.fromstring(made["qr"]).tag.endswith("svg")
    assert made["link"] == f"http://testserver/#/join/{made['token']}"


def test_a_sitter_comes_on_her_day_and_goes_by_herself(ada: Phone, dov: Phone, people: People) -> None:
    made = invited(ada, starts_on=days(3), ends_on=days(6), pack="p1")
    said = dov.send(ACCEPT, {"token": made["token"]}).json()["farms"][1]
    assert (said["starts_on"], said["ends_on"], said["pack"]) == (days(3), days(6), "p1")
    assert says(dov.get("changes")) == (403, "not_yet")
    assert dov.get("changes").json()["starts_on"] == days(3)
    place = Membership.objects.filter(person=people.dov, farm=people.farm)
    place.update(starts_on=days(-1))
    assert dov.get("changes").status_code == 200
    place.update(ends_on=days(-2))
    assert says(dov.get("changes")) == (403, "removed")
    assert [farm["name"] for farm in dov.client.get("/api/session").json()["farms"]] == ["Valley"]
    assert Membership.everyone.get(person=people.dov, farm=people.farm).gone_why == "ended"
    assert Audit.objects.filter(farm=people.farm, what="ended").count() == 1
