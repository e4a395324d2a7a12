"""Somebody who is on the farm already is given a last day, or stays after all."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from herd.models import Audit, Membership
from herd.services.members import today_on
from tests.people import People
from tests.phones import Phone


@pytest.fixture
def cleo(people: People) -> Phone:
    return Phone(people.farm, people.cleo).sign_in()


@pytest.fixture
def today(people: People) -> date:
    return today_on(people.farm)


def give(ada: Phone, person: Any, on: date | None) -> Any:
    body = {"ends_on": on.isoformat() if on else None}
    return ada.ask("PATCH", f"/api/farms/{ada.farm.id}/members/{person.pk}", body)


def says(answer: Any) -> tuple[int, str, str]:
    said = answer.json()
    return answer.status_code, said.get("code", ""), said.get("where", "")


def row_of(phone: Phone, person: Any) -> dict[str, Any]:
    return next(row for row in phone.get("changes").json()["people"] if row["id"] == person.pk)


@pytest.mark.parametrize("who", ["ben", "cleo"])
def test_a_last_day_is_set_told_and_taken_away_again(ada: Phone, people: People, today: date, who: str) -> None:
    person, last = getattr(people, who), today + timedelta(days=3)
    phone = Phone(people.farm, person).sign_in()
    answer = give(ada, person, last)
    assert answer.status_code == 200
    assert [m["ends_on"] for m in answer.json()["members"] if m["person"] == person.pk] == [last.isoformat()]
    assert row_of(phone, person)["ends_on"] == last.isoformat()
    assert phone.client.get("/api/session").json()["farms"][0]["ends_on"] == last.isoformat()
    assert give(ada, person, None).status_code == 200
    assert "ends_on" not in row_of(phone, person)
    said = Audit.objects.filter(farm=people.farm, what__startswith="last_day", person=people.ada.pk).order_by("id")
    assert [(row.what, row.detail) for row in said] == [
        ("last_day_set", f"{person.pk} {last.isoformat()}"),
        ("last_day_gone", person.pk),
    ]


def test_she_is_on_it_through_that_day_and_not_after(ada: Phone, cleo: Phone, people: People, today: date) -> None:
    assert give(ada, people.cleo, today).status_code == 200
    assert cleo.get("changes").status_code == 200
    Membership.objects.filter(person=people.cleo).update(ends_on=today - timedelta(days=1))
    assert says(cleo.get("changes"))[:2] == (403, "removed")
    assert Membership.everyone.get(person=people.cleo).gone_why == "ended"
    assert give(ada, people.cleo, today).status_code == 404


def test_it_is_not_past_nor_before_her_first_day(ada: Phone, people: People, today: date) -> None:
    wrong = (400, "bad_field", "ends_on")
    assert says(give(ada, people.cleo, today - timedelta(days=1))) == wrong
    Membership.objects.filter(person=people.cleo).update(starts_on=today + timedelta(days=5))
    assert says(give(ada, people.cleo, today + timedelta(days=4))) == wrong
    assert give(ada, people.cleo, today + timedelta(days=5)).status_code == 200


def test_an_owner_has_none_not_even_one_of_several(ada: Phone, people: People, today: date) -> None:
    assert says(give(ada, people.ada, today)) == (409, "last_owner", "role")
    Membership.objects.filter(person=people.ben).update(role="owner")
    for owner in (people.ada, people.ben):
        assert says(give(ada, owner, today)) == (400, "owner_stays", "ends_on")
    assert not Membership.objects.filter(ends_on__isnull=False).exists()


def test_an_adviser_looks_until_some_day(ada: Phone, people: People, today: date) -> None:
    Membership.objects.filter(person=people.cleo).update(role="adviser", ends_on=today)
    assert says(give(ada, people.cleo, None)) == (400, "bad_field", "ends_on")
    assert give(ada, people.cleo, today + timedelta(days=30)).status_code == 200


def test_a_change_of_nothing_is_told_so(ada: Phone, people: People) -> None:
    path = f"/api/farms/{people.farm.id}/members/{people.cleo.pk}"
    assert ada.ask("PATCH", path, {}).status_code == 400
    assert ada.ask("PATCH", path, {"ends_on": "tomorrow"}).status_code == 400
