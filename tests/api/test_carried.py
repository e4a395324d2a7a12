"""Entries brought in a file from a phone without a signal: never under anybody's name who has not signed in there."""

from __future__ import annotations

import json
from typing import Any

import pytest

from herd.models import Device, Event, Membership, Quarantine
from herd.services import keep_refused
from herd.services.clock import now_ms
from tests.people import People
from tests.phones import Phone, new_id, states

DAY_MS = 86_400_000


@pytest.fixture
def cleos(people: People) -> list[dict[str, Any]]:
    """What Cleo wrote on a phone that never came home."""
    away, doe = Phone(people.farm, people.cleo), new_id()
    return [away.event("note", doe, {"text": text}) for text in ("limps", "better")]


@pytest.fixture
def bens(people: People) -> Phone:
    return Phone(people.farm, people.ben).sign_in()


def bring(phone: Phone, events: list[dict[str, Any]], **more: Any) -> list[dict[str, Any]]:
    answer = phone.push_raw(phone.body(events, carried=True, **more))
    assert answer.status_code == 200, answer.content
    return list(answer.json()["answers"])


def kept() -> list[tuple[str, str]]:
    return sorted(Quarantine.objects.values_list("code", "event_id"))


def test_of_somebody_without_a_seat_they_go_on_the_owners_list_and_not_into_the_log(
    bens: Phone, people: People, cleos: list[dict[str, Any]]
) -> None:
    answers = bring(bens, cleos)
    assert [(one["st"], one["code"]) for one in answers] == [("rejected", "carried")] * 2
    assert Event.objects.count() == 0
    assert kept() == sorted(("carried", event["id"]) for event in cleos)
    row = Quarantine.objects.get(event_id=cleos[0]["id"])
    assert (row.sender, json.loads(row.raw)) == (people.ben.pk, cleos[0])


def test_brought_twice_and_by_two_they_are_on_the_list_once(
    bens: Phone, people: People, cleos: list[dict[str, Any]]
) -> None:
    bring(bens, cleos)
    bring(bens, cleos)
    bring(Phone(people.farm, people.ada).sign_in(), cleos)
    assert len(kept()) == 2


def test_what_was_first_sent_without_a_word_of_being_brought_is_on_the_list_too(
    bens: Phone, cleos: list[dict[str, Any]]
) -> None:
    assert {one["code"] for one in bens.push(*cleos)} == {"not_seated"}
    bring(bens, cleos)
    assert {code for code, _ in kept()} == {"carried"}


def test_whoever_signs_in_there_sends_them_as_her_own(bens: Phone, people: People, cleos: list[dict[str, Any]]) -> None:
    bens.person = people.cleo
    bens.sign_in()
    assert states(bring(bens, cleos)) == ["ok"] * 2
    assert set(Event.objects.values_list("author", flat=True)) == {people.cleo.pk}


def test_what_its_author_has_sent_by_now_is_there_already(
    bens: Phone, people: People, cleos: list[dict[str, Any]]
) -> None:
    Phone(people.farm, people.cleo, device=cleos[0]["device"]).sign_in().push(*cleos)
    answers = bring(bens, cleos)
    assert states(answers) == ["dup"] * 2
    assert kept() == []


def test_of_nobody_on_the_farm_nothing_is_let_wait(bens: Phone, people: People, cleos: list[dict[str, Any]]) -> None:
    strange = [{**event, "author": people.dov.pk} for event in cleos]
    assert {one["code"] for one in bring(bens, strange)} == {"not_member"}


def test_the_bringers_clock_says_nothing_of_them_and_her_phone_is_not_taken_for_theirs(
    people: People, cleos: list[dict[str, Any]]
) -> None:
    own = Phone(people.farm, people.cleo, fast_ms=3 * DAY_MS).sign_in()
    assert [one["eff"] for one in bring(own, cleos, device=cleos[0]["device"])] == [None, None]
    assert Device.objects.count() == 0
    assert abs(Event.objects.earliest("seq").happened_ms - now_ms()) < DAY_MS


def listed(ada: Phone) -> list[dict[str, Any]]:
    return list(ada.get("set-aside").json()["entries"])


def decide(ada: Phone, row: dict[str, Any], how: str) -> Any:
    return ada.ask("POST", f"/api/farms/{ada.farm.pk}/set-aside/{row['id']}/{how}")


def test_the_owner_sees_whose_they_are_and_who_brought_them_and_lets_them_in_or_leaves_them(
    ada: Phone, bens: Phone, people: People, cleos: list[dict[str, Any]]
) -> None:
    bring(bens, cleos)
    rows = listed(ada)
    assert [row["event"] for row in rows] == cleos
    assert {(row["author"], row["sent_by"]) for row in rows} == {("Cleo", "Ben")}
    answer = decide(ada, rows[0], "let-in").json()["answer"]
    assert answer["st"] == "ok"
    assert decide(ada, rows[1], "dismiss").status_code == 204
    assert listed(ada) == []
    assert [decide(ada, row, "let-in").status_code for row in rows] == [404, 404]
    taken = Event.objects.get()
    assert (taken.id, taken.author, taken.role) == (cleos[0]["id"], people.cleo.pk, "helper")
    assert json.loads(taken.raw) == cleos[0]


def test_let_in_they_have_their_own_time_and_no_phone_is_taken_for_theirs(ada: Phone, people: People) -> None:
    off = Phone(people.farm, people.ben, fast_ms=3 * DAY_MS).sign_in()
    away = Phone(people.farm, people.cleo)
    bring(off, [away.event("note", new_id(), {"text": "limps"})])
    assert decide(ada, listed(ada)[0], "let-in").json()["answer"]["eff"] is None
    assert Device.objects.exclude(device=ada.device).count() == 0


def test_what_its_author_sends_after_all_is_off_the_list(
    ada: Phone, bens: Phone, people: People, cleos: list[dict[str, Any]]
) -> None:
    bring(bens, cleos)
    Phone(people.farm, people.cleo, device=cleos[0]["device"]).sign_in().push(cleos[0])
    assert [row["event"]["id"] for row in listed(ada)] == [cleos[1]["id"]]


def test_brought_by_somebody_who_is_on_the_farm_no_more_they_are_on_the_list(
    ada: Phone, bens: Phone, people: People, cleos: list[dict[str, Any]]
) -> None:
    Membership.objects.filter(person=people.ben).update(role="helper")
    ada.ask("DELETE", f"/api/farms/{people.farm.id}/members/{people.ben.pk}")
    assert {one["code"] for one in bring(bens, cleos)} == {"carried"}
    rows = listed(ada)
    assert {(row["author"], row["sent_by"]) for row in rows} == {("Cleo", "Ben")}
    assert [decide(ada, row, "let-in").json()["answer"]["st"] for row in rows] == ["ok", "ok"]


def test_what_is_not_kept_of_what_was_brought_is_not_answered_and_all_else_is(
    ada: Phone, bens: Phone, cleos: list[dict[str, Any]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(keep_refused, "MOST_ROWS", 1)
    own = bens.record("doe", new_id(), {"name": "Ivy"})
    assert [(one["id"], one["code"]) for one in bring(bens, [*cleos, own])] == [
        (cleos[0]["id"], "carried"),
        (own["id"], ""),
    ]
    assert bring(bens, cleos[1:]) == [], "and the page of what is new comes all the same"
    assert len(listed(ada)) == 1
