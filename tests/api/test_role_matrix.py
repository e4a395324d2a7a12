"""Role x kind x whose, through the real door: accepted and refused as the table says, in time, early and again."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest

from herd.models import Event, Farm, Membership
from herd.models.event import OK
from herd.models.farm import ADVISER, FAMILY, HELPER, OWNER
from herd.services.backup import backup
from herd.services.make_farm import add_member
from herd.services.restore import restore
from tests.people import People
from tests.phones import Phone, new_id
from tests.support.role_cells import Cell, Cells, Fact

pytestmark = pytest.mark.django_db(transaction=True)
ROLES = (OWNER, FAMILY, HELPER, ADVISER)
BATCH = 400


@pytest.fixture
def cells(people: People, role: str) -> Cells:
    add_member(people.farm, people.dov, ADVISER, by=people.ada)
    person = {OWNER: people.ada, FAMILY: people.ben, HELPER: people.cleo, ADVISER: people.dov}[role]
    other = people.ben if role == OWNER else people.ada
    return Cells(role, Phone(people.farm, person).sign_in(), Phone(people.farm, other).sign_in())


def become(cells: Cells, role: str) -> None:
    Membership.objects.filter(farm=cells.own.farm, person=cells.own.person).update(role=role)


def push(phone: Phone, events: Iterable[Fact], before: dict[str, Any] | None = None) -> dict[str, Fact]:
    """In batches, each from a phone of its own: how often one sends is not what this is about."""
    left, answers = list({event["id"]: event for event in events}.values()), []
    while left:
        now, left = left[:BATCH], left[BATCH:]
        phone.device = new_id()
        answer = phone.push_raw(phone.body(now, before={one["id"]: (before or {}).get(one["id"]) for one in now}))
        if answer.status_code == 403:
            # Nothing of an adviser's is even looked at: it is refused as a whole, with the reason.
            answers += [{**answer.json(), "id": one["id"], "st": "rejected", "why": answer.json()["message"]} for one in now]
            continue
        assert answer.status_code == 200, answer.content
        answers += answer.json()["answers"]
    return {answer["id"]: answer for answer in answers}


def prepare(cells: Cells, made: list[Cell]) -> None:
    """What stands before, by others, and what she recorded when she was still of the family."""
    said = push(cells.other, (event for cell in made for event in cell.before))
    become(cells, OWNER if cells.role == OWNER else FAMILY)
    said |= push(cells.own, (event for cell in made for event in cell.own))
    become(cells, cells.role)
    assert {answer["st"] for answer in said.values()} <= {"ok"}, [one for one in said.values() if one["st"] != "ok"]


def differing(made: list[Cell], got: dict[str, bool]) -> list[str]:
    return [f"{one.kind}: {one.what}" for one in made if got[one.entry["id"]] != one.allowed]


def told(role: str, how: str, made: list[Cell]) -> None:
    sizes = Counter("allowed" if cell.allowed else "refused" for cell in made)
    print(f"{role}, {how}: {len(made)} cells of {len({one.kind for one in made})} kinds, {dict(sizes)}")


@pytest.mark.parametrize("role", ROLES)
def test_in_time_and_again_after_a_restore(cells: Cells, role: str, tmp_path: Path) -> None:
    made = list(cells.all())
    prepare(cells, made)
    backup(tmp_path / "b.gz")
    answers = push(cells.own, (cell.entry for cell in made))
    assert not differing(made, {key: one["st"] == "ok" for key, one in answers.items()})
    refused = [one for one in answers.values() if one["st"] != "ok"]
    assert all(one["code"] == "not_allowed" and one["why"].endswith(".") for one in refused), refused[:3]
    told(role, "in time", made)

    restore(tmp_path / "b.gz")
    cells.own.farm.refresh_from_db()
    cells.own.epoch = cells.own.farm.epoch
    cells.own.sign_in()
    proofs = {key: {"receipt": one["receipt"], "eff": one["eff"]} for key, one in answers.items() if "receipt" in one}
    forged = next(iter(proofs.values()), {"receipt": "o" + "A" * 22, "eff": {}})
    again = push(cells.own, (cell.entry for cell in made), {cell.entry["id"]: forged for cell in made} | proofs)
    assert not differing(made, {key: one["st"] == "ok" for key, one in again.items()})
    told(role, "offered again with and without a proof", made)


@pytest.mark.parametrize("role", ROLES)
def test_before_what_it_names_is_there(cells: Cells, role: str) -> None:
    """A link that came first waits, and is judged as if it had come in time, by what she was when she sent it."""
    made = [cell for cell in cells.all() if cell.entry["kind"] in ("void", "correct")]
    answers = push(cells.own, (cell.entry for cell in made))
    assert {one["st"] for one in answers.values()} == ({"rejected"} if role == ADVISER else {"parked"})
    prepare(cells, made)
    count = dict(Event.objects.filter(id__in=answers).values_list("id", "fold_status"))
    assert not differing(made, {key: count.get(key) == OK for key in answers})
    told(role, "before what it names", made)


@pytest.mark.parametrize("role", [HELPER])
def test_whoever_is_let_in_late_is_judged_by_what_she_was(cells: Cells, role: str) -> None:
    """A farm that makes her family by the time a doe is known has not given her more for what she sent before."""
    doe = new_id()
    entry = cells.own.event("left_herd", doe, {"why": "sold"})
    assert push(cells.own, [entry])[entry["id"]]["code"] == "not_allowed"
    void = cells.own.event("void", doe, {"of": (theirs := cells.other.event("bred", doe, BRED))["id"]})
    assert push(cells.own, [void])[void["id"]]["st"] == "parked"
    become(cells, FAMILY)
    push(cells.other, [cells.other.record("doe", doe, {"name": "Ivy"}), theirs])
    assert Event.objects.get(id=void["id"]).fold_status == "refused"
    assert json.loads(Event.objects.get(id=theirs["id"]).raw)["data"] == BRED
    assert Farm.objects.get(pk=cells.own.farm.pk).seq == 3


BRED = {"from_on": "2026-08-01", "to_on": "2026-08-01", "how": "hand", "buck": ""}
