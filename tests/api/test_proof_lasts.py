"""Using a phone every day keeps nobody signed in for good."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.utils import timezone

from herd.models import Audit, Event
from tests.people import People
from tests.phones import Phone, new_id, states

LAST_D = 180


class Days:
    """Days go by, each with some use of the phones."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.now, self.begun = datetime.now(UTC), 0
        monkeypatch.setattr(timezone, "now", lambda: self.now)

    def go_by(self, days: int, *phones: Phone) -> None:
        for _ in range(0, days, 30):
            self.now += timedelta(days=30)
            for phone in phones:
                phone.get("changes")


@pytest.fixture
def days(monkeypatch: pytest.MonkeyPatch) -> Days:
    return Days(monkeypatch)


def code(answer: Any) -> tuple[int, str]:
    return answer.status_code, answer.json().get("code", "")


def test_after_half_a_year_it_is_over_however_much_it_was_used(days: Days, people: People) -> None:
    ada = Phone(people.farm, people.ada).sign_in()
    days.go_by(LAST_D, ada)
    assert ada.get("changes").status_code == 200
    days.go_by(1, ada)
    assert code(ada.get("changes")) == (401, "sign_in")
    assert ada.client.get("/api/session").json()["person"] is None
    assert Audit.objects.filter(what="half_year_over", person=people.ada.pk).exists()


def test_what_was_recorded_goes_out_once_she_has_signed_in_again(days: Days, people: People) -> None:
    ada = Phone(people.farm, people.ada).sign_in()
    days.go_by(LAST_D + 30, ada)
    doe = ada.record("doe", new_id(), {"name": "Ivy"})
    assert code(ada.push_raw(ada.body([doe]))) == (401, "sign_in")
    ada.sign_in()
    assert states(ada.push(doe)) == ["ok"]
    assert Event.objects.count() == 1


def test_each_of_a_shared_phone_has_days_of_her_own_and_a_tap_gives_none(days: Days, people: People) -> None:
    shared = Phone(people.farm, people.ada).sign_in()
    days.go_by(90, shared)
    shared.person = people.ben
    shared.sign_in()
    take(shared, people.ada)
    days.go_by(120, shared)
    assert [one["name"] for one in shared.client.get("/api/session").json()["seats"]] == ["Ben"]
    assert take(shared, people.ada) == 404
    assert take(shared, people.ben) == 200


def take(phone: Phone, person: Any) -> int:
    body, headers = {"person": person.pk}, {"X-CSRFToken": phone.token}
    answer = phone.client.put("/api/session", body, content_type="application/json", headers=headers)
    return int(answer.status_code)
