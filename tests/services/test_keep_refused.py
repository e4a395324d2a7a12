"""What is refused is kept, up to so much a day for each person; of an adviser nothing at all."""

from __future__ import annotations

from typing import Any

import pytest
from django.db.models import Model

from herd.models import Device, Event, Quarantine
from herd.models.farm import ADVISER
from herd.services import keep_refused
from herd.services.clock import now_ms
from herd.services.make_farm import add_member, make_farm
from tests.logs import record
from tests.people import ZONE, People
from tests.phones import Phone, new_id


def bad(phone: Phone, letters: int = 0) -> dict[str, Any]:
    return phone.event("note", new_id(), {"text": "", "more": "x" * letters})


def held(model: type[Model]) -> int:
    return model._default_manager.count()


def test_over_the_rows_of_a_day_answers_say_why_and_nothing_more_is_kept(
    ada: Phone, ben: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(keep_refused, "MOST_ROWS", 10)
    for _ in range(3):
        answers = record(ada, *(bad(ada) for _ in range(6)))
        assert [answer["why"] != "" and answer["st"] for answer in answers] == ["rejected"] * 6
    assert held(Quarantine) == 10
    record(ben, bad(ben), role="family")
    assert held(Quarantine) == 11, "somebody else's day is not used up"
    record(ada, bad(ada), now=now_ms() + keep_refused.DAY_MS + 1)
    assert held(Quarantine) == 12


def test_over_the_letters_of_a_day_nothing_more_is_kept(ada: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(keep_refused, "MOST_LETTERS", 20_000)
    for _ in range(4):
        record(ada, *(bad(ada, 3_000) for _ in range(2)))
    assert held(Quarantine) == 5
    assert sum(len(row.raw) for row in Quarantine.objects.all()) <= 20_000


def test_another_farm_is_no_way_around_it(ada: Phone, people: People, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(keep_refused, "MOST_ROWS", 3)
    other = Phone(make_farm("Second", ZONE, people.ada), people.ada)
    for phone in (ada, other, ada, other):
        record(phone, bad(phone), bad(phone))
    assert held(Quarantine) == 3


def test_a_full_day_of_refusals_costs_no_entry_that_is_right(ada: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(keep_refused, "MOST_ROWS", 0)
    good = ada.record("doe", new_id(), {"name": "Ivy"})
    assert [answer["st"] for answer in record(ada, bad(ada), good, bad(ada))] == ["rejected", "ok", "rejected"]


def test_of_an_adviser_nothing_is_kept_whoever_sends_it(ada: Phone, people: People) -> None:
    add_member(people.farm, people.dov, ADVISER, by=people.ada)
    dov = Phone(people.farm, people.dov)
    entries = [dov.record("doe", new_id(), {"name": "Ivy"}), bad(dov), {**bad(dov), "v": "x"}]
    for answer in record(dov, *entries, [1], role=ADVISER):
        assert (answer["st"], answer["why"] != "") == ("rejected", True)
    # On a phone she shares with the owner, who sends hers; and her own sending of what the owner recorded.
    seats = frozenset({people.ada.pk, people.dov.pk})
    assert record(ada, *entries, seats=seats)[0]["code"] == "not_allowed"
    record(dov, bad(ada), role=ADVISER, seats=seats)
    assert (held(Quarantine), held(Event)) == (0, 0)
    assert not Device.objects.filter(person=people.dov).exists()
