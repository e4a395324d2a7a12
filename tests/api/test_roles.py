"""Whoever helps records, holds and reduces; the order of the barn and the end of a hold are for who plans."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from tests.people import People
from tests.phones import Phone, new_id

pytestmark = pytest.mark.django_db(transaction=True)
ORDERS, HOLDS = ("not_allowed", "f.order"), ("not_allowed", "until_on")


@pytest.fixture
def cleo(people: People) -> Phone:
    return Phone(people.farm, people.cleo).sign_in()


def hold(phone: Phone, doe: str, days: int | None = 3) -> dict[str, Any]:
    until = "" if days is None else (datetime.now(UTC) + timedelta(days=days)).date().isoformat()
    return phone.event("freeze", doe, {"until_on": until, "grain_out": False, "of": ""})


def refused(answer: dict[str, Any]) -> tuple[str, str]:
    assert answer["st"] == "rejected"
    return answer["code"], answer["field"]


def placed(ada: Phone, kind: str = "doe") -> str:
    """A record that stands already."""
    row = new_id()
    assert ada.push(ada.record(kind, row, {"name": "Ivy", "order": 1}))[0]["st"] == "ok"
    return row


@pytest.mark.parametrize("kind", ["doe", "pen"])
def test_a_helper_moves_nobody_in_the_order(ada: Phone, cleo: Phone, kind: str) -> None:
    row = placed(ada, kind)
    moved = cleo.record(kind, row, {"order": 2})
    answer = cleo.push(moved)[0]
    assert refused(answer) == ORDERS
    assert answer["why"].startswith("The owner or family sets the order")
    assert cleo.push(cleo.record(kind, row, {"name": "Ivy Two"}))[0]["st"] == "ok"
    assert ada.push(ada.record(kind, row, {"order": 2}))[0]["st"] == "ok"


def test_a_helper_adds_a_doe_at_the_end_and_leaves_her_there(cleo: Phone) -> None:
    row = new_id()
    new, moved = cleo.record("doe", row, {"name": "Elm", "order": 4}), cleo.record("doe", row, {"order": 1})
    answers = cleo.push(new, moved)
    assert (answers[0]["st"], refused(answers[1])) == ("ok", ORDERS)


def test_a_helper_holds_grain_and_does_not_give_it_free(ada: Phone, ben: Phone, cleo: Phone) -> None:
    doe = placed(ada)
    assert cleo.push(hold(cleo, doe))[0]["st"] == "ok"
    assert refused(cleo.push(hold(cleo, doe, None))[0]) == HOLDS
    assert ben.push(hold(ben, doe, None))[0]["st"] == "ok"


def test_a_helper_takes_back_her_own_hold_and_nobody_elses(ada: Phone, cleo: Phone) -> None:
    doe = placed(ada)
    theirs, hers = hold(ada, doe), hold(cleo, doe)
    ada.push(theirs)
    cleo.push(hers)
    assert refused(cleo.push(cleo.event("void", doe, {"of": theirs["id"]}))[0]) == HOLDS
    assert cleo.push(cleo.event("void", doe, {"of": hers["id"]}))[0]["st"] == "ok"


def test_a_shared_phone_judges_by_who_tapped(ada: Phone, people: People) -> None:
    doe = placed(ada)
    shared = Phone(people.farm, people.cleo).sign_in()
    shared.person = people.ada
    shared.sign_in()
    of = {name: getattr(people, name).pk for name in ("ada", "cleo")}
    shared.push({**hold(shared, doe), "author": of["cleo"]})
    assert refused(shared.push({**hold(shared, doe, None), "author": of["cleo"]})[0]) == HOLDS
    assert shared.push({**hold(shared, doe, None), "author": of["ada"]})[0]["st"] == "ok"
