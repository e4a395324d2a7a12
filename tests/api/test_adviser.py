"""An adviser sees the does chosen for her and what they are fed from: nothing of any other, by any door."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from herd.models import Event, Membership, Quarantine
from herd.services.work import work_off
from herd.state.fold import fold
from tests.people import People
from tests.phones import Phone, new_id, now_ms, states

DAY_MS = 86_400_000


@dataclass
class Barn:
    ada: Phone
    vet: Phone
    ivy: str
    fern: str
    moss: str
    pen: str
    far: str


@pytest.fixture
def barn(ada: Phone, people: People) -> Barn:
    """Ivy and Fern in one pen, Moss in another; the adviser sees Ivy."""
    ivy, fern, moss, pen, far = (new_id() for _ in range(5))
    day = now_ms() - 3 * DAY_MS
    on = {"happened": day}
    ada.push(
        *(ada.record("pen", one, {"name": name}) for one, name in ((pen, "Near"), (far, "Far"))),
        *(ada.record("doe", one, {"name": name}) for one, name in ((ivy, "Ivy"), (fern, "Fern"), (moss, "Moss"))),
        *(ada.event("moved", one, {"pen": where}, **on) for one, where in ((ivy, pen), (fern, pen), (moss, far))),
        ada.record("contact", new_id(), {"name": "Nobody at all", "role": "vet", "phone": "000"}),
        ada.record("feed", new_id(), {"name": "Own hay"}),
    )
    Membership.objects.create(farm=people.farm, person=people.dov, role="adviser", does=[ivy])
    return Barn(ada, Phone(people.farm, people.dov).sign_in(), ivy, fern, moss, pen, far)


def fed(barn: Barn, subject: str, *lines: tuple[str, int], **other: Any) -> dict[str, Any]:
    said = [{"to": to, "feed": "hay", "g": g} for to, g in lines]
    return barn.ada.event("fed", subject, {"adds": False, "lines": said}, slot="morning", **other)


def rows(barn: Barn, what: str) -> dict[str, dict[str, Any]]:
    return {row["ev"]["id"]: row for row in barn.vet.get(what).json()["events"]}


def both(barn: Barn) -> list[dict[str, dict[str, Any]]]:
    return [rows(barn, "changes"), rows(barn, "bootstrap")]


def test_of_other_does_she_hears_that_something_stands_there_and_nothing_else(barn: Barn) -> None:
    note = barn.ada.event("note", barn.fern, {"text": "Fern limps a little"})
    barn.ada.push(note)
    page = barn.vet.get("changes").json()
    assert [row["seq"] for row in page["events"]] == list(range(1, page["seq"] + 1))
    hidden = [row for row in page["events"] if row["st"] == "hidden"]
    assert hidden
    assert all(set(row) == {"seq", "st", "eff", "ev"} and set(row["ev"]) == {"id"} for row in hidden)
    text = json.dumps([page, barn.vet.get("bootstrap").json()])
    for word in ("Fern", "Moss", "limps", "Far", "Nobody at all", barn.fern, barn.moss, barn.far):
        assert word not in text, word
    for word in ("Ivy", "Near", "Own hay"):
        assert word in text, word


def test_a_new_phone_of_hers_is_sent_no_placeholders(barn: Barn) -> None:
    assert "hidden" not in {row["st"] for row in barn.vet.get("bootstrap").json()["events"]}


def test_outlooks_are_those_of_her_does_and_the_book(barn: Barn) -> None:
    work_off(barn.ada.farm.pk)
    for what in ("changes", "bootstrap"):
        assert {doc["doe"] for doc in barn.vet.get(what).json()["outlooks"]} == {"", barn.ivy}
        assert {doc["doe"] for doc in barn.ada.get(what).json()["outlooks"]} >= {barn.fern, barn.moss}


def test_people_are_the_owners_and_herself(barn: Barn, people: People) -> None:
    for what in ("changes", "bootstrap"):
        assert [(one["name"], one["role"]) for one in barn.vet.get(what).json()["people"]] == [
            ("Ada", "owner"),
            ("Dov", "adviser"),
        ]


def test_a_feeding_of_a_pen_carries_her_does_part(barn: Barn) -> None:
    """Two stand in the pen and one is hers: half of what lies there for all, her own line, and no other."""
    event = fed(barn, barn.pen, ("", 3001), (barn.ivy, 400), (barn.fern, 900))
    far = fed(barn, barn.far, ("", 5000))
    barn.ada.push(event, far)
    for seen in both(barn):
        lines = seen[event["id"]]["ev"]["data"]["lines"]
        assert [(line["to"], line["g"]) for line in lines] == [("", 1500), (barn.ivy, 400)]
    assert rows(barn, "changes")[far["id"]]["st"] == "hidden"


def test_so_does_its_correction_and_a_ration(barn: Barn) -> None:
    event = fed(barn, barn.pen, ("", 3000), (barn.fern, 900))
    said = {"adds": False, "lines": [{"to": "", "feed": "hay", "g": 2000}, {"to": barn.fern, "feed": "hay", "g": 700}]}
    put_right = barn.ada.event("correct", barn.pen, {"of": event["id"], "data": said})
    step = {"on": datetime.now(UTC).date().isoformat(), "g": 4000}
    plan = {"to": "pen", "slot": "morning", "feed": "hay", "base": "", "steps": [step]}
    ration = barn.ada.event("ration", barn.pen, plan)
    answers = barn.ada.push(event, put_right, ration)
    seen = rows(barn, "changes")
    assert states(answers) == ["ok", "ok", "ok"]
    assert seen[put_right["id"]]["ev"]["data"]["data"]["lines"] == [{"to": "", "feed": "hay", "g": 1000}]
    assert seen[ration["id"]]["ev"]["data"]["steps"] == [{**step, "g": 2000}]
    assert barn.fern not in json.dumps(seen)


def test_of_the_days_before_she_came_to_the_pen_she_hears_nothing(barn: Barn) -> None:
    early = fed(barn, barn.pen, ("", 3000), happened=now_ms() - 10 * DAY_MS)
    barn.ada.push(early)
    assert rows(barn, "changes")[early["id"]]["st"] == "hidden"


def test_what_she_has_folds_to_her_does_alone(barn: Barn) -> None:
    barn.ada.push(fed(barn, barn.pen, ("", 3000), (barn.fern, 10)))
    for what in ("changes", "bootstrap"):
        page = barn.vet.get(what).json()["events"]
        view = fold([row["ev"] for row in page if row["st"] == "ok"])
        assert set(view["does"]) == {barn.ivy}
        assert set(view["pens"]) == {barn.pen}
        assert view["aside"] == []


def test_what_is_taken_back_later_is_said_of_hers_only(barn: Barn) -> None:
    hers = barn.ada.event("score", barn.ivy, {"x100": 275})
    other = barn.ada.event("score", barn.fern, {"x100": 275})
    barn.ada.push(hers, other)
    voids = [barn.ada.event("void", one["subject"], {"of": one["id"]}) for one in (hers, other)]
    barn.ada.push(*voids)
    seen = rows(barn, "changes")
    assert [seen[void["id"]]["st"] for void in voids] == ["ok", "hidden"]


def test_she_sends_nothing_and_nothing_is_kept(barn: Barn) -> None:
    before = Event.objects.count()
    for events in ([], [barn.vet.event("note", barn.ivy, {"text": "x"})], [{"id": "no entry"}]):
        answer = barn.vet.push_raw(barn.vet.body(events))
        assert (answer.status_code, answer.json()["code"]) == (403, "not_allowed")
    assert Event.objects.count() == before
    assert not Quarantine.objects.exists()


def test_her_time_ends_by_itself(barn: Barn, people: People) -> None:
    day = datetime.now(UTC).date()
    Membership.objects.filter(person=people.dov, role="adviser").update(ends_on=day + timedelta(days=1))
    assert barn.vet.get("changes").status_code == 200
    Membership.objects.filter(person=people.dov, role="adviser").update(ends_on=day - timedelta(days=2))
    for what in ("changes", "bootstrap"):
        assert (barn.vet.get(what).status_code, barn.vet.get(what).json()["code"]) == (403, "removed")


def test_who_is_no_adviser_sees_all_of_it(barn: Barn) -> None:
    page = barn.ada.get("changes").json()
    assert "hidden" not in {row["st"] for row in page["events"]}
    assert "Fern" in json.dumps(page)
