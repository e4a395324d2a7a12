"""Bodies and addresses no phone of ours makes: each hears a sentence, none a fault of the server's."""

from __future__ import annotations

import json
import re
from types import SimpleNamespace
from typing import Any

import pytest

from herd.models import Device, Event
from tests.phones import Phone, new_id
from tests.security.doors import FARM_DOORS, OWN_DOORS, FarmDoor

pytestmark = pytest.mark.django_db(transaction=True)
DEEP = "[" * 500 + "]" * 500
VERY_DEEP = "[" * 30_000 + "]" * 30_000
WIDE = json.dumps([{"a": [{}]}] * 3_000)
# As JSON texts: much of it cannot be made from values.
ODD = (
    "null", "true", "-1", "-0", "-0.0", "0.5", "1e400", "-1e400", "1e308", "NaN", "Infinity", "9007199254740993",
    "123456789012345678901234567890", '""', '"\\u0000"', '"\\ud800"', '"\\udc00\\ud800"', '"\\u202eevil"',
    '"__proto__"', '"constructor"', '"' + "x" * 70_000 + '"', "[]", "[[]]", "{}", '{"__proto__":{"a":1}}',
    '{"constructor":{"prototype":{"a":1}}}', '{"a":1,"a":2}', DEEP, VERY_DEEP, WIDE,
)  # fmt: skip
# What a text in Python may hold and one in PostgreSQL may not: NUL, and half of a pair.
NO_TEXT = ('"\\u0000"', '"\\ud800"', "%00")


def case(odd: str, name: str) -> Any:
    marks = () if odd in NO_TEXT else pytest.mark.any_database
    return pytest.param(odd, id=name, marks=marks)


PARTS = [case(one, f"{n}-{one[:16]}") for n, one in enumerate(ODD)]
ENVELOPE = ("id", "kind", "v", "subject", "on", "slot", "happened", "entered", "hlc", "author", "device", "data")


def with_part(whole: dict[str, Any], name: str, odd: str) -> bytes:
    """A text in which one part is something else, written as it is."""
    return json.dumps({**whole, name: "@@"}).replace('"@@"', odd).encode(errors="surrogatepass")


def pushed(phone: Phone, *raw: bytes) -> Any:
    body = json.dumps(phone.body([])).encode()[:-1].replace(b', "events": []', b"")
    return phone.push_raw(body + b', "events": [' + b",".join(raw) + b"]}")


def fine(answer: Any) -> Any:
    assert answer.status_code in (200, 400, 404, 409, 413), (answer.status_code, answer.content[:300])
    said = answer.json()
    if answer.status_code >= 400:
        assert said["code"]
        assert said["message"]
    return said


@pytest.mark.parametrize("odd", PARTS)
def test_each_part_of_an_entry_may_be_anything(ada: Phone, odd: str) -> None:
    doe = new_id()
    assert ada.push(ada.record("doe", doe, {"name": "Ivy"}))[0]["st"] == "ok"
    entries = [with_part(ada.event("score", doe, {"x100": 300}), name, odd) for name in ENVELOPE]
    entries += [with_part({**ada.event("score", doe, {}), "v": 9}, "data", odd)]
    entries += [odd.encode(errors="surrogatepass")]
    if odd.startswith('"'):
        score, rule = ada.event("score", doe, {"x100": 300, "@@": 1}), ada.record("rules", ada.farm.id, {"@@": 1})
        entries += [json.dumps(one).replace('"@@"', odd).encode(errors="surrogatepass") for one in (score, rule)]
    for raw in entries:
        for answer in fine(pushed(ada, raw)).get("answers", []):
            assert answer["st"] != "rejected" or (answer["code"] and answer["why"])
    assert ada.push(ada.event("score", doe, {"x100": 275}))[0]["st"] == "ok"
    assert fine(ada.get("changes"))["events"]
    assert fine(ada.get("bootstrap"))["events"]


@pytest.mark.parametrize("odd", PARTS)
def test_each_part_of_a_body_may_be_anything(ada: Phone, odd: str) -> None:
    event = ada.record("doe", new_id(), {"name": "Ivy"})
    cursor = {"seq": 0, "outlook_rev": 0, "signed": ""}
    for name in ("device", "app", "schema", "epoch", "now", "cursor", "events", "pending", "before", "more"):
        fine(ada.push_raw(with_part(ada.body([event]), name, odd)))
    for name in cursor:
        inner = with_part(cursor, name, odd).decode()
        fine(ada.push_raw(with_part(ada.body([event]), "cursor", inner)))
    for name in ("receipt", "eff"):
        shown = with_part({"receipt": "o" + "A" * 22, "eff": {"on": "2026-11-02"}}, name, odd).decode()
        before = with_part({}, event["id"], shown).decode()
        fine(ada.push_raw(with_part(ada.body([event]), "before", before)))
        eff = with_part({}, "hlc", odd).decode()
        before = with_part({}, event["id"], with_part({"receipt": "o" + "A" * 22}, "eff", eff).decode()).decode()
        fine(ada.push_raw(with_part(ada.body([event]), "before", before)))
    fine(ada.push_raw(odd.encode(errors="surrogatepass")))
    assert Event.objects.count() <= 1
    assert all(app.isprintable() for app in Device.objects.values_list("app", flat=True))


ADDRESSES = (
    "%00", "a%00b", "%ed%a0%80", "%ff", "..", "x" * 3000, "%E2%80%AE", "1e400", "-0", "%0a", "%7f", "%C2%85", "9" * 40,
)  # fmt: skip
PLACES = [case(one, one[:16]) for one in ADDRESSES]


@pytest.mark.parametrize("odd", PLACES)
def test_addresses_and_questions_may_be_anything(ada: Phone, odd: str) -> None:
    here = f"/api/farms/{ada.farm.id}"
    for name in ("seq", "outlook_rev", "epoch", "limit", "signed"):
        fine(ada.client.get(f"{here}/changes?seq=5&{name}={odd}"))
    for what in ("changes", "bootstrap"):
        fine(ada.client.get(f"/api/farms/{odd}/{what}"))
    fine(ada.send(f"/api/farms/{odd}/events", ada.body([])))


VALUES = re.compile(r"<(?:str|int):(\w+)>")


@pytest.mark.parametrize("odd", PLACES)
def test_each_door_with_a_value_in_its_address_may_hear_anything_there(ada: Phone, odd: str) -> None:
    ada.client.raise_request_exception = False
    token, child = ada.token, SimpleNamespace(farm=ada.farm, event=new_id(), doe=new_id(), picture=b"x")
    for door in (one for one in (*FARM_DOORS, *OWN_DOORS) if "<" in one.route):
        body = door.body(ada, child, child) if isinstance(door, FarmDoor) else None
        data = body if isinstance(body, bytes) else json.dumps(body).encode()
        for path in with_odd_values(door.route, odd, ada.farm.id):
            answer = ada.client.generic(
                door.method, path, data, content_type="application/json", headers={"X-CSRFToken": token}
            )
            assert answer.status_code in (400, 404), (door.method, path, answer.status_code, answer.content[:200])
            assert answer.json()["message"]
            # A control is refused at one place, before anything looks at it.
            assert (answer.json()["code"] == "unreadable") == (odd in CONTROLS), (door.method, path)
    assert ada.get("changes").status_code == 200


def with_odd_values(route: str, odd: str, farm: str) -> set[str]:
    """At each value; and at all but the farm's, where there is one beside it."""
    beside = VALUES.sub(lambda value: farm if value[1] == "farm_id" else odd, route)
    others = [name for name in VALUES.findall(route) if name != "farm_id"]
    return {f"/api/{path}" for path in ([beside] if others else []) + [VALUES.sub(odd, route)]}


CONTROLS = ("%00", "a%00b", "%0a", "%7f", "%C2%85")


@pytest.mark.parametrize("odd", PLACES)
def test_whoever_signs_out_may_say_any_name(ada: Phone, odd: str) -> None:
    nobody = Phone(ada.farm, ada.person)
    for phone in (ada, nobody):
        phone.client.raise_request_exception = False
        for query in (f"person={odd}", f"{odd}=x", odd):
            answer = phone.ask("DELETE", f"/api/session?{query}")
            asked = "unreadable" if odd in CONTROLS else None
            assert (answer.status_code, answer.json().get("code")) == (400 if asked else 200, asked), query
            phone.sign_in()


@pytest.mark.any_database
@pytest.mark.parametrize("times", [0, 1, 2**53 - 1, 253_402_300_799_000])
def test_a_phone_whose_clock_stands_anywhere_is_answered(ada: Phone, times: int) -> None:
    doe = new_id()
    events = [ada.record("doe", doe, {"name": "Ivy"}), ada.event("score", doe, {"x100": 300}, happened=0)]
    last = {"happened": 253_402_300_799_000, "on": "9999-12-31"}
    events += [{**ada.event("score", doe, {"x100": 325}), **last}]
    events += [ada.event("score", doe, {"x100": 325}, on="0001-01-01", hlc="f" * 12 + "-ffff-ffffffff")]
    fine(ada.push_raw(ada.body(events, now=times)))
    assert fine(ada.get("bootstrap"))["seq"] == Event.objects.count()
