"""Whatever stands in a farm's log, its phones start, and every command that reads it answers."""

from __future__ import annotations

import json
import random
from io import StringIO
from itertools import product
from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth.hashers import make_password
from django.core.management import call_command

from herd.models import Event, Membership, Person
from herd.models.farm import ADVISER
from herd.services.append import append
from herd.services.backup import backup
from herd.services.bootstrap import snapshot
from herd.services.explain import explain, find_doe
from herd.services.rebuild import rebuild
from herd.services.restore import restore
from herd.services.wire import replay
from herd.state.fold import fold
from tests.logs import record, replayed
from tests.people import PASSWORD
from tests.phones import Phone, new_id
from tests.support import poison
from tests.support.poisoned_row import poisoned_row

FARMS = 40
# On PostgreSQL a backup sets how its transaction reads, which it can only do at the start of one.
pytestmark = pytest.mark.django_db(transaction=True)


def straight_in(phone: Phone, *raws: str) -> None:
    """Into the log past every judge, as a build that did not know better let it in."""
    phone.farm.refresh_from_db()
    rows = []
    for raw in raws:
        event = json.loads(raw)
        phone.farm.seq += 1
        rows.append(poisoned_row(phone.farm, event, raw))
    append(rows)
    phone.farm.save(update_fields=["seq"])


def every_way_in(phone: Phone, doe: str, file: Path) -> dict[str, Any]:
    started = phone.get("bootstrap")
    assert started.status_code == 200, started.content
    assert phone.get("changes", seq=0, outlook_rev=0).status_code == 200
    vet = advised(phone, doe)
    for answer in (vet.get("bootstrap"), vet.get("changes", seq=0, outlook_rev=0)):
        assert answer.status_code == 200, answer.content
    rebuild(phone.farm.id)
    assert explain(find_doe(doe), None, "me")
    out = StringIO()
    call_command("log", doe, stdout=out)
    assert out.getvalue()
    assert backup(file).counts["event"]
    return dict(started.json())


def advised(phone: Phone, doe: str) -> Phone:
    """Somebody who sees that doe, and nothing else of the farm."""
    vet, _ = Person.objects.get_or_create(name="Vet", defaults={"password": make_password(PASSWORD)})
    Membership.objects.get_or_create(farm=phone.farm, person=vet, defaults={"role": ADVISER, "does": [doe]})
    made = Phone(phone.farm, vet)
    made.client.raise_request_exception = False
    return made.sign_in()


@pytest.fixture
def farm(ada: Phone) -> tuple[Phone, str]:
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": "Ivy", "size": "mini"}), ada.event("score", doe, {"x100": 300}))
    return ada.sign_in(), doe


def test_a_void_of_an_unknown_version_that_holds_nothing_stops_no_phone(
    farm: tuple[Phone, str], tmp_path: Path
) -> None:
    ada, doe = farm
    event = {**ada.event("void", doe, {}), "v": 2, "data": None}
    straight_in(ada, json.dumps(event))
    started = every_way_in(ada, doe, tmp_path / "b.gz")
    assert event["id"] in [one["ev"]["id"] for one in started["events"]]


@pytest.mark.parametrize("kind", ["correct", "fed", "ration", "picture", "moved", "void"])
def test_no_content_of_an_entry_about_her_doe_keeps_an_adviser_out(farm: tuple[Phone, str], kind: str) -> None:
    ada, doe = farm
    pen = new_id()
    record(ada, ada.record("pen", pen, {"name": "Near"}), ada.event("moved", doe, {"pen": pen}))
    contents: tuple[Any, ...] = ([1], "x", 5, None, {"data": [1]}, {"data": "x", "lines": 4, "steps": [1]})
    for subject, v, data in product((doe, pen), (1, 2), contents):
        straight_in(ada, json.dumps({**ada.event(kind, subject, {}), "v": v, "data": data}))
    Event.objects.filter(farm=ada.farm, kind="correct").update(form="fed")
    vet = advised(ada, doe)
    for what in ("bootstrap", "changes"):
        answer = vet.get(what)
        assert answer.status_code == 200, answer.content
        assert len(answer.json()["events"]) >= 4


def test_what_nobody_can_read_stays_on_the_short_list_however_old(farm: tuple[Phone, str]) -> None:
    """Or a new phone would name other entries than all others do."""
    ada, doe = farm
    long_ago = 1_500_000_000_000
    kinds = ("doe", "ration", "bred", "void", "correct")
    bad = [{**ada.event(kind, doe, {}, happened=long_ago), "data": {"f": 5}} for kind in kinds]
    straight_in(ada, *map(json.dumps, bad))
    view = fold([one.event for one in snapshot(ada.farm)])
    assert view["aside"] == fold(replayed(ada.farm))["aside"]
    assert {row["ev"] for row in view["aside"]} == {event["id"] for event in bad}
    assert view["does"][doe]["scores"][0][1] == 300


def test_a_row_that_is_no_json_at_all_is_read_as_nothing(farm: tuple[Phone, str]) -> None:
    ada, doe = farm
    straight_in(ada, json.dumps(ada.event("note", doe, {"text": "x"})))
    for raw in ("", "{", "null", "[1]", '"x"', "[" * 5000):
        Event.objects.filter(farm=ada.farm, kind="note").update(raw=raw)
        assert fold([one.event for one in snapshot(ada.farm)])["does"][doe]["scores"][0][1] == 300
        assert replay(raw, "") == replay("", "")
        sent = ada.get("bootstrap").json()["events"]
        assert [list(one["ev"]) for one in sent].count(["id"]) == 1


def test_poisoned_logs_are_started_from_rebuilt_explained_told_and_kept(
    farm: tuple[Phone, str], tmp_path: Path
) -> None:
    ada, doe = farm
    for n in range(FARMS):
        made = poison.Poisoned(random.Random(f"log/{n}")).made()
        straight_in(ada, *made["log"])
    every_way_in(ada, doe, tmp_path / "b.gz")
    before = fold(replayed(ada.farm))
    assert before["aside"]
    assert before["does"][doe]["scores"][0][1] == 300
    restore(tmp_path / "b.gz")
    assert fold(replayed(ada.farm)) == before
