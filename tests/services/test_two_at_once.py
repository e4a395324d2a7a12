"""Two phones that know nothing of each other: both are kept, and every phone has the one question."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest

from herd.services.bootstrap import bootstrap
from herd.services.wire import canonical, replay
from herd.state.fold import fold
from tests.logs import record, replayed
from tests.phones import Phone, new_id

TREATED = {"product": "Yarrow drench", "told": "", "why": "", "who": "vet", "meat_until": "", "carries": []}
MEAL = {"lines": [{"to": "", "feed": "barley", "g": 300}], "adds": False}


def ration(g: int) -> dict[str, Any]:
    return {"to": "doe", "slot": "morning", "feed": "barley", "steps": [{"on": "2026-11-20", "g": g}], "base": ""}


def asked(ada: Phone) -> tuple[list[dict[str, Any]], dict[str, Any]]:
    """The questions of a phone that was there all along, which are those of one that is new."""
    old = fold(replayed(ada.farm))
    new = bootstrap(ada.farm.pk)
    rows = msgspec.json.decode(msgspec.json.encode(new["events"]))
    fresh = fold([replay(canonical(one["ev"]), canonical(one["eff"]) if one["eff"] else "") for one in rows])
    assert fresh["questions"] == old["questions"]
    return old["questions"], old


@pytest.mark.parametrize("first", ["ada", "ben"])
def test_two_feedings_in_one_slot(ada: Phone, ben: Phone, first: str) -> None:
    pen = new_id()
    record(ada, ada.record("pen", pen, {"name": "Dry"}))
    for phone in (ada, ben) if first == "ada" else (ben, ada):
        record(phone, {**phone.event("fed", pen, MEAL), "slot": "morning"})
    questions, view = asked(ada)
    assert [one["kind"] for one in questions] == ["fed_twice"]
    assert (len(questions[0]["values"]), len(view["feedings"])) == (2, 2)


HIGH = [
    pytest.param("doe", "size", ("mini", "standard"), 0, id="identity: her size"),
    pytest.param("doe", "size", ("standard", "mini"), 1, id="identity: her size, the other way"),
    pytest.param("doe", "sex", ("doe", "buck"), 1, id="identity: doe or buck"),
    pytest.param("doe", "tag", ("17", "71"), 1, id="identity: her tag"),
    pytest.param("doe", "born_on", ("2025-03-01", "2024-03-01"), 0, id="a date her phase hangs on"),
    pytest.param("doe", "had_milk_fever", (True, False), 0, id="what she has been through"),
    pytest.param("lot", "feed", ("hay", "alfalfa"), 1, id="what a stack is"),
    pytest.param("shelf", "told", ("one thing", "another"), 1, id="what the vet said"),
    pytest.param("contact", "phone", ("0100", "0200"), 1, id="whom to ring at night"),
]


PARTS = {"doe": "does", "lot": "lots", "shelf": "shelf", "contact": "contacts"}


@pytest.mark.parametrize(("kind", "field", "values", "careful"), HIGH)
def test_two_values_of_what_can_hurt(
    ada: Phone, ben: Phone, kind: str, field: str, values: tuple[Any, Any], careful: int
) -> None:
    subject = new_id()
    first = {"name": "Ivy"} if kind != "shelf" else {"card": "bloat"}
    record(ada, ada.record(kind, subject, first))
    for phone, value in zip((ada, ben), values, strict=True):
        record(phone, phone.record(kind, subject, {field: value}))
    questions, view = asked(ada)
    assert [(one["kind"], one["field"]) for one in questions] == [("field", field)]
    assert [side["value"] for side in questions[0]["values"]] == list(values)
    assert view[PARTS[kind]][subject]["f"][field] == values[careful]


def test_two_rules(ada: Phone, ben: Phone) -> None:
    for phone, value in ((ada, 60), (ben, 80)):
        record(phone, phone.record("rules", ada.farm.pk, {"step_mini_g": value}))
    questions, view = asked(ada)
    assert [(one["kind"], one["field"]) for one in questions] == [("field", "step_mini_g")]
    assert view["rules"]["f"]["step_mini_g"] == 60


def test_two_rations(ada: Phone, ben: Phone) -> None:
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": "Ivy"}))
    for phone, g in ((ada, 300), (ben, 450)):
        record(phone, phone.event("ration", doe, ration(g)))
    questions, _ = asked(ada)
    assert [one["kind"] for one in questions] == ["ration"]


def test_a_treatment_given_by_two(ada: Phone, ben: Phone) -> None:
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": "Ivy"}))
    for phone, until in ((ada, "2099-12-20"), (ben, "2099-12-24")):
        record(phone, phone.event("treatment", doe, {**TREATED, "milk_until": until}))
    questions, view = asked(ada)
    assert [one["kind"] for one in questions] == ["treated_twice"]
    assert {one["milk_until"] for one in view["does"][doe]["treatments"]} == {"2099-12-20", "2099-12-24"}
    second = view["does"][doe]["treatments"][1]["ev"]
    said = {"of": second, "data": {**TREATED, "milk_until": "2099-12-24", "again": True}}
    record(ben, ben.event("correct", doe, said))
    assert asked(ada)[0] == []


def test_a_kidding_written_down_by_two(ada: Phone, ben: Phone) -> None:
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": "Ivy"}))
    marks = []
    for phone in (ada, ben):
        event = {**phone.event("kidded", doe, {"born": 2, "alive": 2, "timed": False}), "v": 2}
        assert record(phone, event)[0]["st"] == "ok"
        marks.append(event["id"])
    questions, view = asked(ada)
    assert ([one["kind"] for one in questions], view["does"][doe]["kiddings"]) == (["kidded_twice"], 1)
    record(ada, ada.event("void", doe, {"of": marks[0]}))
    questions, view = asked(ada)
    assert (questions, view["does"][doe]["kiddings"]) == ([], 1)


TURNS = [
    pytest.param("bred", {"how": "hand", "buck": ""}, "bred_twice", id="when she was served"),
    pytest.param("dried_off", {}, "dried_twice", id="when she was dried off"),
]


@pytest.mark.parametrize(("kind", "data", "question"), TURNS)
def test_a_date_her_phase_hangs_on_by_two(
    ada: Phone, ben: Phone, kind: str, data: dict[str, Any], question: str
) -> None:
    doe, marks = new_id(), []
    record(ada, ada.record("doe", doe, {"name": "Ivy"}))
    for phone, on in ((ada, "2026-10-02"), (ben, "2026-10-05")):
        dated = {**data, "from_on": on, "to_on": on} if kind == "bred" else data
        event = {**phone.event(kind, doe, dated), "on": on}
        assert record(phone, event)[0]["st"] == "ok"
        marks.append((event["id"], dated))
    questions, view = asked(ada)
    if kind == "bred":
        assert {edge: view["does"][doe]["bred"][edge] for edge in ("from", "to")} == {
            "from": "2026-10-02",
            "to": "2026-10-05",
        }
    assert [(one["kind"], {side["ev"] for side in one["values"]}) for one in questions] == [
        (question, {mark for mark, _ in marks})
    ]
    second, dated = marks[1]
    record(ben, ben.event("correct", doe, {"of": second, "data": {**dated, "again": True}}))
    assert asked(ada)[0] == []


@pytest.mark.parametrize(("kind", "data", "question"), TURNS)
def test_taking_one_of_the_two_dates_back_ends_it(
    ada: Phone, ben: Phone, kind: str, data: dict[str, Any], question: str
) -> None:
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": "Ivy"}))
    events = []
    for phone, on in ((ada, "2026-10-02"), (ben, "2026-10-05")):
        dated = {**data, "from_on": on, "to_on": on} if kind == "bred" else data
        events.append({**phone.event(kind, doe, dated), "on": on})
        record(phone, events[-1])
    assert [one["kind"] for one in asked(ada)[0]] == [question]
    record(ada, ada.event("void", doe, {"of": events[0]["id"]}))
    questions, view = asked(ada)
    held = view["does"][doe]
    assert (questions, held["dried_on"] or held["bred"]["from"]) == ([], "2026-10-05")
