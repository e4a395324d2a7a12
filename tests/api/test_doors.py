"""Who gets in, and what a broken request hears: one shape, one mark, no oracle."""

from __future__ import annotations

import gzip
import json
import zlib
from typing import Any

import pytest
from django.test import Client

from herd.models import Event, Farm, Membership, Quarantine
from tests.people import PASSWORD, People
from tests.phones import Phone, new_id, states
from tests.security.doors import FARM_DOORS as TABLE
from tests.security.doors import MEMBERS, PUSHERS

# What everybody on the farm is let in by, and that names nothing of it.
FARM_DOORS = {
    door.route: door.method.lower()
    for door in TABLE
    if door.who in (MEMBERS, PUSHERS) and door.yes == 200 and "<str:sha256>" not in door.route
}


def knock(phone: Phone, farm_id: str, route: str) -> Any:
    path = "/api/" + route.replace("<str:farm_id>", farm_id)
    return phone.client.get(path) if FARM_DOORS[route] == "get" else phone.send(path, phone.body([]))


def test_those_a_phone_syncs_by_are_among_them() -> None:
    assert {"events", "changes", "bootstrap", "media"} <= {route.rpartition("/")[2] for route in FARM_DOORS}


@pytest.mark.parametrize("route", FARM_DOORS)
def test_a_stranger_hears_what_a_farm_that_is_not_there_says(people: People, route: str) -> None:
    dov = Phone(people.farm, people.dov).sign_in()
    other, nowhere = knock(dov, people.farm.id, route), knock(dov, new_id(), route)
    assert other.status_code == nowhere.status_code == 404
    assert other.content == nowhere.content
    assert other.json()["code"] == "not_found"


@pytest.mark.parametrize("route", FARM_DOORS)
def test_nobody_signed_in_is_401_sign_in(people: People, route: str) -> None:
    answer = knock(Phone(people.farm, people.ada), people.farm.id, route)
    assert (answer.status_code, answer.json()["code"]) == (401, "sign_in")


@pytest.mark.parametrize("route", FARM_DOORS)
def test_who_left_the_farm_is_a_stranger_at_once(ben: Phone, people: People, route: str) -> None:
    assert knock(ben, people.farm.id, route).status_code == 200
    Membership.objects.filter(person=people.ben).delete()
    assert knock(ben, people.farm.id, route).status_code == 404


def test_an_adviser_reads_and_records_nothing(ben: Phone, people: People) -> None:
    Membership.objects.filter(person=people.ben).update(role="adviser")
    assert ben.get("changes").status_code == 200
    answer = ben.push_raw(ben.body([ben.record("doe", new_id(), {"name": "Ivy"})]))
    assert (answer.status_code, answer.json()["code"]) == (403, "not_allowed")
    assert not Event.objects.exists()
    assert not Quarantine.objects.exists()


def test_a_missing_or_stale_token_is_403_csrf(ada: Phone) -> None:
    for token in ("", "x" * 32):
        answer = ada.send(f"/api/farms/{ada.farm.id}/events", ada.body([]), token=token)
        assert (answer.status_code, answer.json()["code"]) == (403, "csrf")


def test_an_expired_session_is_401_and_the_entries_go_out_after_signing_in(ada: Phone) -> None:
    event = ada.record("doe", new_id(), {"name": "Ivy"})
    del ada.client.cookies["mangerline_session"]
    assert ada.push_raw(ada.body([event])).status_code == 401
    ada.sign_in()
    assert states(ada.push(event)) == ["ok"]


def test_every_answer_carries_the_mark_and_errors_are_json(ada: Phone) -> None:
    answers = [
        ada.client.get("/api/session"),
        ada.client.get("/api/nothing/here"),
        ada.client.put("/api/session", b"{}", content_type="application/json"),
        ada.client.get(f"/api/farms/{ada.farm.id}/events"),
        ada.push_raw(b"<html>"),
        ada.send("/api/session", b"<html>"),
    ]
    assert [answer.status_code for answer in answers] == [200, 404, 403, 405, 400, 400]
    for answer in answers:
        assert answer.headers["X-Mangerline"] == "1"
        assert answer.headers["Content-Type"].startswith("application/json")
    for answer in answers[1:]:
        assert set(answer.json()) == {"code", "message", "where"}


def test_a_fault_of_ours_is_500_json_without_details(ada: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    def fault(*_: object) -> None:
        raise RuntimeError("secret detail")

    monkeypatch.setattr("api.sync.changes", fault)
    answer = ada.get("changes")
    assert (answer.status_code, answer.json()["code"]) == (500, "server")
    assert b"secret" not in answer.content


def test_gzip_bodies_are_read(ada: Phone) -> None:
    raw = json.dumps(ada.body([ada.record("doe", new_id(), {"name": "Ivy"})])).encode()
    answer = ada.push_raw(gzip.compress(raw), **{"Content-Encoding": "gzip"})
    assert states(answer.json()["answers"]) == ["ok"]


def test_a_gzip_bomb_is_413_before_it_is_unpacked(ada: Phone) -> None:
    bomb = gzip.compress(b"0" * 200_000_000, compresslevel=9)
    assert len(bomb) < 300_000
    answer = ada.push_raw(bomb, **{"Content-Encoding": "gzip"})
    assert (answer.status_code, answer.json()["code"]) == (413, "too_big")


@pytest.mark.parametrize("body", [b"not gzip", gzip.compress(b"{}" * 50, mtime=0)[:-4], zlib.compress(b"{}")])
def test_broken_gzip_is_400(ada: Phone, body: bytes) -> None:
    assert ada.push_raw(body, **{"Content-Encoding": "gzip"}).status_code == 400


def test_long_answers_are_packed(ada: Phone) -> None:
    ada.push(*(ada.record("doe", new_id(), {"name": f"Doe {n}"}) for n in range(20)))
    answer = ada.client.get(f"/api/farms/{ada.farm.id}/changes", headers={"Accept-Encoding": "gzip"})
    assert answer.headers["Content-Encoding"] == "gzip"
    assert len(json.loads(gzip.decompress(answer.content))["events"]) == 20


def test_signing_in_names_person_farms_and_versions(ada: Phone, people: People) -> None:
    said = ada.client.get("/api/session").json()
    assert said["person"] == {"id": people.ada.pk, "name": "Ada"}
    assert said["farms"] == [
        {"id": people.farm.id, "name": "Hill", "zone": "Europe/Vienna", "role": "owner", "epoch": 1}
    ]
    assert said["versions"]["schema"] == 1


def test_a_wrong_password_says_nothing_about_the_name(people: People) -> None:
    client = Client(enforce_csrf_checks=True)
    token = client.get("/api/session").json()["csrf"]

    def tried(name: str) -> Any:
        body = {"name": name, "password": "wrong"}
        return client.post("/api/session", body, content_type="application/json", headers={"X-CSRFToken": token})

    known, unknown = tried("Ada"), tried("Nobody")
    assert known.status_code == unknown.status_code == 400
    assert known.json() == unknown.json()
    assert known.json()["code"] == "wrong_password"
    assert [tried("ada").status_code for _ in range(10)][-1] == 429


def test_signing_out_leaves_no_person(ada: Phone) -> None:
    answer = ada.client.delete("/api/session", headers={"X-CSRFToken": ada.token})
    assert answer.json()["person"] is None
    assert ada.get("changes").status_code == 401


def test_signing_in_needs_the_token(people: People) -> None:
    body = {"name": "Ada", "password": PASSWORD}
    answer = Client(enforce_csrf_checks=True).post("/api/session", body, content_type="application/json")
    assert (answer.status_code, answer.json()["code"]) == (403, "csrf")


def test_making_a_farm_makes_its_owner(ben: Phone, people: People) -> None:
    answer = ben.send("/api/farms", {"name": " New  Farm ", "zone": "America/New_York"})
    assert (answer.status_code, answer.json()["role"], answer.json()["name"]) == (201, "owner", "New Farm")
    assert Phone(Farm.objects.get(pk=answer.json()["id"]), people.ben).sign_in().get("bootstrap").status_code == 200


@pytest.mark.parametrize(
    ("body", "where"),
    [
        ({"name": "", "zone": "UTC"}, "name"),
        ({"name": "Hill", "zone": "Moon/Base"}, "zone"),
        ([], "name"),
        ({}, "name"),
    ],
)
def test_a_farm_nobody_can_have_is_400(ben: Phone, body: Any, where: str) -> None:
    answer = ben.send("/api/farms", body)
    assert (answer.status_code, answer.json()["code"], answer.json()["where"]) == (400, "bad_field", where)


def test_making_a_farm_needs_signing_in(people: People) -> None:
    assert Phone(people.farm, people.ada).send("/api/farms", {"name": "X", "zone": "UTC"}).status_code in (401, 403)
    assert Farm.objects.count() == 2


def test_health_asks_the_database(ada: Phone) -> None:
    answer = ada.client.get("/healthz")
    assert (answer.status_code, answer.json()) == (200, {"ok": True})
    assert "default-src 'none'" in answer.headers["Content-Security-Policy"]


def test_nothing_was_written_through_the_wrong_door(people: People) -> None:
    dov = Phone(people.farm, people.dov).sign_in()
    event = dov.record("doe", new_id(), {"name": "Ivy"})
    assert dov.push_raw(dov.body([event])).status_code == 404
    assert not Event.objects.exists()
