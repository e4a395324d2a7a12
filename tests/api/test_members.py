"""Roles changed, people removed, people leaving: what phones hear, and what becomes of what they recorded."""

from __future__ import annotations

from typing import Any

import pytest

from herd.models import Audit, Event, Membership, Quarantine, Seat
from herd.services import for_the_owner, keep_refused
from tests.people import People
from tests.phones import Phone, new_id, states


@pytest.fixture
def cleo(people: People) -> Phone:
    return Phone(people.farm, people.cleo).sign_in()


def member(phone: Phone, person: Any) -> str:
    return f"/api/farms/{phone.farm.id}/members/{person.pk}"


def says(answer: Any) -> tuple[int, str]:
    return answer.status_code, answer.json().get("code", "")


def doe(phone: Phone, name: str = "Ivy") -> dict[str, Any]:
    return phone.record("doe", new_id(), {"name": name})


def handed_in(phone: Phone, *events: Any) -> dict[str, Any]:
    answer = phone.push_raw(phone.body(list(events)))
    assert answer.status_code == 200, answer.content
    return dict(answer.json())


def test_a_role_changes_at_once(ada: Phone, cleo: Phone, people: People) -> None:
    rules = cleo.record("rules", people.farm.id, {"level_pm": 90})
    assert cleo.push(rules)[0]["code"] == "not_allowed"
    assert ada.ask("PATCH", member(ada, people.cleo), {"role": "family"}).status_code == 200
    assert states(cleo.push(cleo.record("rules", people.farm.id, {"level_pm": 90}))) == ["ok"]


def test_a_farm_is_never_without_an_owner(ada: Phone, people: People) -> None:
    for method, path, body in (
        ("PATCH", member(ada, people.ada), {"role": "family"}),
        ("DELETE", member(ada, people.ada), None),
        ("POST", f"/api/farms/{people.farm.id}/leave", None),
    ):
        assert says(ada.ask(method, path, body)) == (409, "last_owner")
    assert ada.ask("PATCH", member(ada, people.ben), {"role": "owner"}).status_code == 200
    assert ada.ask("POST", f"/api/farms/{people.farm.id}/leave").status_code == 204
    assert says(ada.get("changes")) == (403, "removed")


@pytest.mark.parametrize("role", ["adviser", "king", ""])
def test_what_is_no_role_to_change_to_is_400(ada: Phone, people: People, role: str) -> None:
    assert ada.ask("PATCH", member(ada, people.cleo), {"role": role}).status_code == 400
    assert Membership.objects.get(person=people.cleo).role == "helper"


def test_who_is_removed_hears_it_at_every_door(ada: Phone, cleo: Phone, people: People) -> None:
    assert ada.ask("DELETE", member(ada, people.cleo)).status_code == 204
    for what in ("changes", "bootstrap"):
        assert says(cleo.get(what)) == (403, "removed")
    assert cleo.client.get("/api/session").json()["farms"] == []
    assert ada.ask("DELETE", member(ada, people.cleo)).status_code == 404
    assert Audit.objects.filter(farm=people.farm, what="removed", person=people.ada.pk).exists()


def test_her_name_stands_beside_what_she_recorded(ada: Phone, cleo: Phone, people: People) -> None:
    cleo.push(doe(cleo))
    ada.ask("DELETE", member(ada, people.cleo))
    for what in ("changes", "bootstrap"):
        assert {"id": people.cleo.pk, "name": "Cleo", "role": "helper", "gone": True} in ada.get(what).json()["people"]


def test_what_she_had_not_sent_waits_for_the_owner_and_is_let_in_under_her_name(
    ada: Phone, cleo: Phone, people: People
) -> None:
    sent, unsent, other = doe(cleo), doe(cleo, "Fern"), doe(cleo, "Moss")
    cleo.push(sent)
    ada.ask("DELETE", member(ada, people.cleo))
    said = handed_in(cleo, sent, unsent, other)
    assert said["removed"] is True
    assert "changes" not in said
    assert "people" not in said
    assert [(one["st"], one["code"]) for one in said["answers"]] == [
        ("dup", ""),
        ("rejected", "removed"),
        ("rejected", "removed"),
    ]
    assert Event.objects.count() == 1
    path = f"/api/farms/{people.farm.id}/set-aside"
    rows = ada.client.get(path).json()["entries"]
    assert [(row["event"]["data"]["f"]["name"], row["author"], row["sent_by"]) for row in rows] == [
        ("Fern", "Cleo", "Cleo"),
        ("Moss", "Cleo", "Cleo"),
    ]
    answer = ada.ask("POST", f"{path}/{rows[0]['id']}/let-in").json()["answer"]
    assert (answer["st"], answer["seq"]) == ("ok", 2)
    assert Event.objects.get(seq=2).author == people.cleo.pk
    assert Event.objects.get(seq=2).role == "helper"
    assert ada.ask("POST", f"{path}/{rows[1]['id']}/dismiss").status_code == 204
    assert ada.client.get(path).json() == {"entries": [], "more": False}
    for row in rows:
        assert ada.ask("POST", f"{path}/{row['id']}/let-in").status_code == 404
    assert Quarantine.objects.filter(code="removed").count() == 2
    assert states(handed_in(cleo, unsent)["answers"]) == ["dup"]


def test_handing_in_twice_keeps_one(ada: Phone, cleo: Phone, people: People) -> None:
    entry = doe(cleo)
    ada.ask("DELETE", member(ada, people.cleo))
    for _ in range(3):
        assert handed_in(cleo, entry)["answers"][0]["code"] == "removed"
    assert Quarantine.objects.count() == 1


def test_what_is_let_in_is_judged_as_hers(ada: Phone, cleo: Phone, people: People) -> None:
    rules = cleo.record("rules", people.farm.id, {"level_pm": 90})
    ada.ask("DELETE", member(ada, people.cleo))
    handed_in(cleo, rules)
    path = f"/api/farms/{people.farm.id}/set-aside"
    row = ada.client.get(path).json()["entries"][0]["id"]
    answer = ada.ask("POST", f"{path}/{row}/let-in").json()["answer"]
    assert (answer["st"], answer["code"]) == ("rejected", "not_allowed")
    assert not Event.objects.exists()
    assert len(ada.client.get(path).json()["entries"]) == 1


def test_a_wrong_clock_is_put_right_as_on_the_day_it_came(ada: Phone, people: People) -> None:
    hour = 3_600_000
    cleo = Phone(people.farm, people.cleo, fast_ms=5 * hour).sign_in()
    entry = doe(cleo)
    ada.ask("DELETE", member(ada, people.cleo))
    handed_in(cleo, entry)
    path = f"/api/farms/{people.farm.id}/set-aside"
    row = ada.client.get(path).json()["entries"][0]["id"]
    eff = ada.ask("POST", f"{path}/{row}/let-in").json()["answer"]["eff"]
    assert abs(eff["happened"] - (entry["happened"] - 5 * hour)) < 60_000


def test_from_a_shared_phone_she_hands_them_in_herself(ada: Phone, people: People) -> None:
    """Nobody there goes on as her any more, nor writes in her name: they wait on it for her password."""
    shared = Phone(people.farm, people.cleo).sign_in()
    entry = doe(shared)
    shared.person = people.ben
    shared.sign_in()
    ada.ask("DELETE", member(ada, people.cleo))
    aside = f"/api/farms/{people.farm.id}/set-aside"
    assert shared.push(entry)[0]["code"] == "not_seated"
    assert ada.client.get(aside).json()["entries"] == []
    shared.person = people.cleo
    assert handed_in(shared.sign_in(), entry)["answers"][0]["code"] == "removed"
    [row] = ada.client.get(aside).json()["entries"]
    assert (row["event"]["id"], row["author"], row["sent_by"]) == (entry["id"], "Cleo", "Cleo")
    assert ada.ask("POST", f"{aside}/{row['id']}/let-in").json()["answer"]["st"] == "ok"


def test_nobody_puts_words_into_her_mouth(ada: Phone, ben: Phone, people: People) -> None:
    ada.ask("DELETE", member(ada, people.cleo))
    forged = {**doe(ben), "author": people.cleo.pk}
    assert ben.push(forged)[0]["code"] == "not_seated"
    assert ada.client.get(f"/api/farms/{people.farm.id}/set-aside").json()["entries"] == []


def test_nobody_goes_on_as_her_on_the_shared_phone_without_her_password(ada: Phone, people: People) -> None:
    shared = Phone(people.farm, people.cleo).sign_in()
    shared.person = people.ben
    shared.sign_in()
    own = Phone(people.farm, people.cleo).sign_in()
    ada.ask("DELETE", member(ada, people.cleo))
    assert says(shared.ask("PUT", "/api/session", {"person": people.cleo.pk})) == (403, "password_needed")
    assert own.client.get("/api/session").json()["person"]["name"] == "Cleo"
    shared.person = people.cleo
    assert shared.sign_in().client.get("/api/session").json()["person"]["name"] == "Cleo"
    assert Seat.objects.filter(person=people.cleo, wrong_pins=0).count() == 2


def test_she_does_not_fill_the_disk(ada: Phone, cleo: Phone, people: People, monkeypatch: pytest.MonkeyPatch) -> None:
    ada.ask("DELETE", member(ada, people.cleo))
    monkeypatch.setattr(for_the_owner, "MOST_WAITING", 2)
    first = doe(cleo), doe(cleo), doe(cleo)
    # Of what is not kept nothing is said: her phone would let go of what nobody has.
    assert [one["id"] for one in handed_in(cleo, *first)["answers"]] == [one["id"] for one in first[:2]]
    answer = cleo.push_raw(cleo.body([first[2]]))
    assert (says(answer), answer.headers["Retry-After"]) == ((503, "busy"), "600")
    assert len(handed_in(cleo, first[0])["answers"]) == 1, "what is kept already needs no room"
    assert Quarantine.objects.count() == 2
    path = f"/api/farms/{people.farm.id}/set-aside"
    row = ada.client.get(path).json()["entries"][0]
    assert ada.ask("POST", f"{path}/{row['id']}/dismiss").status_code == 204
    assert handed_in(cleo, first[2])["answers"][0]["code"] == "removed", "an owner's word makes room"


@pytest.mark.parametrize(("limit", "most"), [("MOST_ROWS", 3), ("MOST_LETTERS", 1500)])
def test_over_what_is_kept_of_one_day_her_phone_keeps_the_rest(
    ada: Phone, cleo: Phone, people: People, monkeypatch: pytest.MonkeyPatch, limit: str, most: int
) -> None:
    monkeypatch.setattr(keep_refused, limit, most)
    entries = [doe(cleo) for _ in range(8)]
    ada.ask("DELETE", member(ada, people.cleo))
    answered = {one["id"] for one in handed_in(cleo, *entries)["answers"]}
    rows = ada.client.get(f"/api/farms/{people.farm.id}/set-aside").json()["entries"]
    assert answered == {row["event"]["id"] for row in rows}
    assert len(answered) == 3
    assert says(cleo.push_raw(cleo.body([one for one in entries if one["id"] not in answered]))) == (503, "busy")


def test_a_year_of_a_busy_helper_is_handed_in_on_one_day() -> None:
    assert keep_refused.MOST_ROWS >= for_the_owner.MOST_WAITING


def test_whatever_is_wrong_with_what_she_hands_in_an_owner_sees_it(ada: Phone, cleo: Phone, people: People) -> None:
    early = cleo.event("note", new_id(), {"text": ""})
    assert cleo.push(early)[0]["code"] == "bad_field"
    ada.ask("DELETE", member(ada, people.cleo))
    late = cleo.event("note", new_id(), {"text": ""})
    other = {**doe(cleo), "author": people.ben.pk}
    said = handed_in(cleo, early, late, other, "no entry")["answers"]
    assert [one["code"] for one in said] == ["bad_field", "bad_field", "not_seated", "unreadable"]
    path = f"/api/farms/{people.farm.id}/set-aside"
    rows = ada.client.get(path).json()["entries"]
    assert [row["event"] for row in rows] == [early, late, other, {}]
    assert [row["sent_by"] for row in rows] == ["Cleo"] * 4
    answers = [ada.ask("POST", f"{path}/{row['id']}/let-in").json()["answer"] for row in rows]
    assert [(one["st"], one["code"]) for one in answers] == [
        ("rejected", "bad_field"),
        ("rejected", "bad_field"),
        ("ok", ""),
        ("rejected", "unreadable"),
    ]
    assert all(one["why"] for one in answers if one["code"])


def test_of_an_adviser_who_is_gone_nothing_is_kept(ada: Phone, cleo: Phone, people: People) -> None:
    Membership.objects.filter(person=people.cleo).update(role="adviser")
    ada.ask("DELETE", member(ada, people.cleo))
    assert says(cleo.push_raw(cleo.body([doe(cleo)]))) == (403, "removed")
    assert not Quarantine.objects.exists()


def test_several_farms_each_with_her_own_role(ada: Phone, people: People) -> None:
    dov = Phone(people.farm, people.dov).sign_in()
    assert dov.send("/api/farms", {"name": "Brook", "zone": "UTC"}).status_code == 201
    assert [farm["name"] for farm in dov.client.get("/api/session").json()["farms"]] == ["Valley", "Brook"]
    assert dov.ask("POST", f"/api/farms/{people.dovs_farm.id}/leave").status_code == 409


def test_a_restored_entry_she_can_prove_is_taken_although_she_has_left(ada: Phone, cleo: Phone, people: People) -> None:
    entry = doe(cleo)
    given = cleo.push(entry)[0]
    Event.objects.all().delete()
    ada.ask("DELETE", member(ada, people.cleo))
    body = cleo.body([entry], before={entry["id"]: {"receipt": given["receipt"], "eff": None}})
    assert states(cleo.push_raw(body).json()["answers"]) == ["ok"]
