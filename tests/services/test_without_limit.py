"""What a phone may make up as it likes, ids of phones and kinds of entries, does not pile up without end."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone

from herd.models import Device, Event, Quarantine
from herd.services import parked_quota, phones
from herd.services.clock import now_ms
from herd.services.tidy import tidy
from tests.logs import record
from tests.people import People
from tests.phones import Phone, new_id, states


def strange(phone: Phone, letters: int = 0) -> dict[str, Any]:
    return phone.event("kind_of_later", new_id(), {"x": "y" * letters})


def test_of_one_person_so_many_phones_are_kept_and_the_longest_unseen_goes(
    ada: Phone, ben: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(phones, "MOST_PHONES", 3)
    entry = ada.record("doe", new_id(), {"name": "Ivy"})
    record(ben, entry, role="family")
    made = [new_id() for _ in range(5)]
    for n, device in enumerate([*made, made[2]]):
        ada.device = device
        record(ada, entry, now=now_ms() + n * 1000)
    assert set(Device.objects.filter(person=ada.person).values_list("device", flat=True)) == set(made[2:])
    ada.device = made[0]
    assert states(record(ada, entry, now=now_ms() + 9000)) == ["dup"], "a phone that comes back is as good as any"
    left = Device.objects.filter(person=ada.person).values_list("device", flat=True)
    assert set(left) == {made[0], made[2], made[4]}
    assert Device.objects.filter(person=ben.person).count() == 1


def test_a_household_has_fewer_phones_than_are_kept() -> None:
    assert phones.MOST_PHONES >= 50


def test_a_phone_not_seen_for_a_year_is_forgotten(ada: Phone, ben: Phone) -> None:
    for phone in (ada, ben):
        record(phone, phone.record("doe", new_id(), {"name": "Ivy"}))
    Device.objects.filter(person=ada.person).update(pushed_at=timezone.now() - timedelta(days=366))
    assert tidy()["phones"] == 1
    assert Device.objects.get().person_id == ben.person.pk


def test_unknown_kinds_over_the_bytes_of_a_day_are_refused_for_an_update_and_kept(
    ada: Phone, ben: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(parked_quota, "MOST_BYTES", 5_000)
    entries = [strange(ada, 1_000) for _ in range(6)]
    answers = record(ada, *entries[:2]) + record(ada, *entries[2:])
    assert states(answers) == ["parked"] * 3 + ["rejected"] * 3
    assert {(one["code"], one["why"] != "") for one in answers[3:]} == {("update", True)}
    assert Quarantine.objects.filter(code="update").count() == 3
    assert states(record(ada, *entries[:3])) == ["dup"] * 3
    good = ada.record("doe", new_id(), {"name": "Ivy"})
    early = ada.event("score", new_id(), {"x100": 300})
    assert states(record(ada, strange(ada, 5_000), good, early)) == ["rejected", "ok", "parked"]
    assert states(record(ben, strange(ben, 1_000), role="family")) == ["parked"], "somebody else's day is not used up"
    later = now_ms() + parked_quota.DAY_MS + 1
    assert states(record(ada, entries[3], now=later)) == ["parked"], "and tomorrow there is room"
    assert Event.objects.filter(kind="kind_of_later").count() == 5


def test_of_an_unknown_version_it_is_the_same(ada: Phone, people: People, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(parked_quota, "MOST_BYTES", 1_500)
    events = [{**ada.event("score", new_id(), {"x": "y" * 500}), "v": 900} for _ in range(3)]
    assert states(record(ada, *events)) == ["parked", "rejected", "rejected"]
