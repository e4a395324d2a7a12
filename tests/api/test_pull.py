from __future__ import annotations

import gzip
import json

import brotli
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.people import People
from tests.phones import Phone, new_id


def test_pages_are_gapless_and_end(ada: Phone, ben: Phone) -> None:
    ada.push(*(ada.record("doe", new_id(), {"name": f"Doe {n}"}) for n in range(7)))
    seen, seq, more = [], 0, True
    while more:
        page = ben.get("changes", seq=seq, limit=3).json()
        seen += [one["seq"] for one in page["events"]]
        seq, more = page["seq"], page["more"]
    assert seen == list(range(1, 8))


def test_another_phone_sees_who_recorded_what(ada: Phone, ben: Phone) -> None:
    event = ada.record("doe", new_id(), {"name": "Ivy"})
    ada.push(event)
    page = ben.get("changes").json()
    assert page["events"] == [{"seq": 1, "st": "ok", "eff": None, "ev": event}]
    assert [(one["name"], one["role"]) for one in page["people"]] == [
        ("Ada", "owner"),
        ("Ben", "family"),
        ("Cleo", "helper"),
    ]


def test_an_idle_pull_is_three_queries_and_small(ada: Phone) -> None:
    ada.push(ada.record("doe", new_id(), {"name": "Ivy"}))
    page = ada.get("changes").json()
    with CaptureQueriesContext(connection) as seen:
        answer = ada.get("changes", seq=page["seq"], outlook_rev=page["outlook_rev"])
    assert answer.json()["events"] == []
    assert len(seen) == 3
    assert len(answer.content) < 600


@pytest.mark.parametrize("query", [{"seq": "x"}, {"seq": "-1"}, {"limit": "many"}, {"seq": "9" * 30}])
def test_a_cursor_that_is_no_number_is_400(ada: Phone, query: dict[str, str]) -> None:
    answer = ada.get("changes", **query)
    assert (answer.status_code, answer.json()["code"]) == (400, "bad_field")


def test_bootstrap_has_the_shape_of_changes_and_ends_at_the_counters(ada: Phone, people: People) -> None:
    ada.push(ada.record("doe", new_id(), {"name": "Ivy"}))
    page, plain = ada.get("bootstrap").json(), ada.get("changes").json()
    assert page["snapshot"] is True
    assert page.keys() - plain.keys() == {"snapshot"}
    assert (page["seq"], page["more"], page["events"]) == (1, False, plain["events"])


def test_nobody_carries_the_entries_of_a_stranger(ada: Phone, people: People) -> None:
    answer = ada.push({**ada.record("doe", new_id(), {"name": "Ivy"}), "author": people.dov.pk})[0]
    assert (answer["st"], answer["code"]) == ("rejected", "not_member")


@pytest.mark.parametrize(("taken", "packing"), [("gzip, deflate, br", "br"), ("gzip", "gzip"), ("", None)])
def test_the_whole_farm_comes_as_small_as_the_phone_can_read(ada: Phone, taken: str, packing: str | None) -> None:
    ada.push(ada.record("doe", new_id(), {"name": "Ivy"}))
    ada.client.defaults["HTTP_ACCEPT_ENCODING"] = taken
    answer = ada.get("bootstrap")
    assert answer.headers.get("Content-Encoding") == packing
    assert "Accept-Encoding" in answer.headers["Vary"]
    unpacked = {"br": brotli.decompress, "gzip": gzip.decompress, None: bytes}[packing](answer.content)
    assert json.loads(unpacked)["snapshot"] is True
