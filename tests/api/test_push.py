from __future__ import annotations

import json
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from herd.models import Device, Event, Quarantine
from tests.people import People
from tests.phones import Phone, new_id, states

FILL = {"fill": 2, "uneven": False}


def a_doe(phone: Phone, name: str = "Juniper") -> str:
    doe = new_id()
    assert states(phone.push(phone.record("doe", doe, {"name": name}))) == ["ok"]
    return doe


def test_a_batch_is_answered_event_by_event_and_stored_byte_for_byte(ada: Phone) -> None:
    doe = new_id()
    first = json.dumps(ada.record("doe", doe, {"name": "Mósa 🐐"}), ensure_ascii=False, indent=1)
    second = json.dumps(ada.event("udder", doe, FILL))
    body = json.dumps(ada.body([])).replace('"events": []', f'"events": [ {first} , {second}]')
    answer = ada.push_raw(body.encode()).json()
    assert states(answer["answers"]) == ["ok", "ok"]
    assert [one["seq"] for one in answer["answers"]] == [1, 2]
    assert list(Event.objects.order_by("seq").values_list("raw", flat=True)) == [first, second]
    page = answer["changes"]
    assert (page["seq"], page["more"], [one["seq"] for one in page["events"]]) == (2, False, [1, 2])


def test_pull_gives_the_same_bytes_back(ada: Phone, ben: Phone) -> None:
    doe = new_id()
    raw = json.dumps(ada.record("doe", doe, {"name": "Ivy"}), indent=3).encode()
    body = json.dumps(ada.body([])).encode().replace(b'"events": []', b'"events": [' + raw + b"]")
    ada.push_raw(body)
    assert raw in ben.get("changes").content


def test_sending_again_is_answered_dup_with_the_same_seq_and_changes_nothing(ada: Phone) -> None:
    event = ada.record("doe", new_id(), {"name": "Ivy"})
    first, again = ada.push(event), ada.push(event, event)
    assert states(again) == ["dup", "dup"]
    assert {one["seq"] for one in (*first, *again)} == {1}
    assert Event.objects.count() == 1


def test_one_bad_item_does_not_keep_the_others(ada: Phone) -> None:
    doe = a_doe(ada)
    good, late = ada.event("udder", doe, FILL), ada.event("score", doe, {"x100": 300})
    answers = ada.push(good, ada.event("udder", doe, {"fill": 9, "uneven": False}), 5, None, {}, late)
    assert states(answers) == ["ok", "rejected", "rejected", "rejected", "rejected", "ok"]
    assert [one["code"] for one in answers[1:5]] == ["bad_field", "unreadable", "unreadable", "unreadable"]
    assert (answers[1]["field"], answers[1]["why"]) == ("fill", "Udder fill must be between 0 and 4.")
    assert [answers[0]["seq"], answers[5]["seq"]] == [2, 3]
    assert Quarantine.objects.filter(event_id=answers[1]["id"], code="bad_field").count() == 1


def test_a_refused_entry_is_kept_once_however_often_it_is_sent(ada: Phone) -> None:
    bad = ada.event("udder", new_id(), {"fill": 9, "uneven": False})
    ada.push(bad)
    ada.push(bad)
    assert Quarantine.objects.count() == 1


def test_an_id_used_for_something_else_is_refused(ada: Phone) -> None:
    doe = a_doe(ada)
    event = ada.event("udder", doe, FILL)
    ada.push(event)
    answer = ada.push({**event, "data": {"fill": 3, "uneven": False}})[0]
    assert (answer["st"], answer["code"]) == ("rejected", "id_reuse")
    assert json.loads(Event.objects.get(id=event["id"]).raw)["data"] == FILL


def test_an_id_used_twice_in_one_batch_is_refused_the_second_time(ada: Phone) -> None:
    event = ada.record("doe", new_id(), {"name": "Ivy"})
    other = {**event, "slot": "late"}
    assert [one["code"] for one in ada.push(event, other)] == ["", "id_reuse"]


def test_the_same_id_on_two_farms_is_two_entries(ada: Phone, people: People) -> None:
    dov = Phone(people.dovs_farm, people.dov).sign_in()
    event = ada.record("doe", new_id(), {"name": "Ivy"})
    assert states(ada.push(event)) == ["ok"]
    assert states(dov.push({**event, "author": people.dov.pk})) == ["ok"]


@pytest.mark.parametrize(
    "broken", [b"", b"<html>Welcome to the portal</html>", b"{", b"[]", b'{"events": 3}', b"\xff\xfe"]
)
def test_an_unreadable_body_is_400_and_writes_nothing(ada: Phone, broken: bytes) -> None:
    answer = ada.push_raw(broken)
    assert (answer.status_code, answer.json()["code"]) == (400, "unreadable")
    assert not Event.objects.exists()
    assert not Device.objects.exists()


def test_a_device_that_is_no_id_is_400(ada: Phone) -> None:
    assert ada.push_raw(ada.body([], device="phone")).json()["where"] == "device"


def test_a_wrong_epoch_is_409_and_says_the_right_one(ada: Phone) -> None:
    event = ada.record("doe", new_id(), {"name": "Ivy"})
    answer = ada.push_raw(ada.body([event], epoch=99))
    assert (answer.status_code, answer.json()["code"], answer.json()["epoch"]) == (409, "epoch", 1)
    assert not Event.objects.exists()


def test_too_many_events_or_bytes_are_413(ada: Phone) -> None:
    assert ada.push_raw(ada.body([{}] * 501)).status_code == 413
    answer = ada.push_raw(b" " * (1024 * 1024 + 1))
    assert (answer.status_code, answer.json()["code"]) == (413, "too_big")


def test_one_too_big_event_is_refused_alone(ada: Phone) -> None:
    big = ada.event("note", new_id(), {"text": "x" * 70_000})
    answers = ada.push(big, ada.record("doe", new_id(), {"name": "Ivy"}))
    assert [one["code"] for one in answers] == ["too_big", ""]
    assert answers[0]["id"] == big["id"]


def test_pushing_too_often_is_429_for_this_device_only(ada: Phone, ben: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("api.sync.PUSHES_A_MINUTE", 2)
    monkeypatch.setattr("api.throttle.time.time", lambda: 1_000_000.0)
    assert [ada.push_raw(ada.body([])).status_code for _ in range(3)] == [200, 200, 429]
    assert ada.push_raw(ada.body([])).headers["Retry-After"]
    assert ben.push_raw(ben.body([])).status_code == 200


def test_an_unknown_kind_or_version_is_kept_and_parked(ada: Phone, ben: Phone) -> None:
    doe = a_doe(ada)
    answers = ada.push(ada.event("ketones", doe, {"mmol_x10": 14}), ada.event("udder", doe, {"half": 1}, v=9))
    assert states(answers) == ["parked", "parked"]
    assert [one["seq"] for one in answers] == [2, 3]
    assert [(one["st"], one["ev"]["kind"]) for one in ben.get("changes").json()["events"]][1] == ("parked", "ketones")


def test_an_entry_about_an_unknown_doe_is_parked_and_taken_up_when_she_appears(ada: Phone) -> None:
    doe = new_id()
    early = ada.event("udder", doe, FILL)
    assert states(ada.push(early)) == ["parked"]
    assert states(ada.push(ada.record("doe", doe, {"name": "Ivy"}))) == ["ok"]
    assert Event.objects.get(id=early["id"]).fold_status == "ok"
    both = new_id()
    assert states(ada.push(ada.event("udder", both, FILL), ada.record("doe", both, {"name": "Elm"}))) == ["ok", "ok"]


def test_pushing_500_takes_few_queries(ada: Phone) -> None:
    doe = a_doe(ada)
    body: Any = ada.body([ada.event("udder", doe, FILL) for _ in range(500)])
    token = ada.token
    with CaptureQueriesContext(
        connection,
    ) as seen:
        assert ada.send(f"/api/farms/{ada.farm.id}/events", body, token=token).status_code == 200
    inserts = [query for query in seen.captured_queries if "INSERT" in query["sql"]]
    assert len(seen) - len(inserts) <= 16
    assert len(inserts) <= 15
