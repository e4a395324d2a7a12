"""Voids and corrections: by whom, of whose, whatever came first; and none that leads back to itself."""

from __future__ import annotations

from itertools import permutations
from typing import Any

import pytest

from herd.models import Event, Farm, Ruling
from herd.services.bootstrap import bootstrap
from herd.services.changes import Cursor, changes
from herd.state.kinds import CHAINS
from tests.helping import LOOK, NOT_ALLOWED, TREATED, helped, sent, told, view
from tests.logs import record
from tests.phones import Phone, new_id, states


@pytest.mark.parametrize("kind", sorted({"treatment", "bred", "kidded", "moved", "doe", "lot"}))
@pytest.mark.parametrize("link", CHAINS)
def test_a_helper_leaves_standing_what_others_said_of_dates_records_and_treatments(
    ada: Phone, cleo: Phone, doe: str, kind: str, link: str
) -> None:
    lot = new_id()
    data: dict[str, dict[str, Any]] = {
        "treatment": TREATED,
        "bred": {"from_on": "2026-08-01", "to_on": "2026-08-01", "how": "hand", "buck": ""},
        "kidded": {"born": 2, "alive": 2},
        "moved": {"pen": ""},
        "doe": {"f": {"tag": "7"}, "base": {"tag": ""}},
        "lot": {"f": {"name": "First cut", "feed": "grass_hay"}, "base": {"name": "", "feed": ""}},
    }
    subject, content = (lot if kind == "lot" else doe), data[kind]
    hers, theirs = cleo.event(kind, subject, content), ada.event(kind, subject, content)
    record(ada, theirs)
    helped(cleo, hers)

    def links(of: str) -> dict[str, Any]:
        return cleo.event(link, subject, {"of": of} if link == "void" else {"of": of, "data": content})

    assert helped(cleo, links(theirs["id"]))[0]["code"] == NOT_ALLOWED
    assert helped(cleo, links(hers["id"]))[0]["st"] == "ok"


def test_by_way_of_an_undo_she_reaches_no_further(ada: Phone, cleo: Phone, doe: str) -> None:
    treated = ada.event("treatment", doe, TREATED)
    undone = ada.event("void", doe, {"of": treated["id"]})
    record(ada, treated, undone)
    assert helped(cleo, cleo.event("void", doe, {"of": undone["id"]}))[0]["code"] == NOT_ALLOWED
    hers = cleo.event("treatment", doe, TREATED)
    helped(cleo, hers)
    theirs = ada.event("void", doe, {"of": hers["id"]})
    record(ada, theirs)
    assert helped(cleo, cleo.event("void", doe, {"of": theirs["id"]}))[0]["code"] == NOT_ALLOWED


def test_whoever_is_in_the_barn_puts_meals_and_looks_right(ada: Phone, cleo: Phone, doe: str) -> None:
    fed = ada.event("fed", doe, {"lines": [{"to": "", "feed": "oats", "g": 100}], "adds": False})
    look = ada.event("udder", doe, LOOK)
    record(ada, fed, look)
    right = cleo.event("correct", doe, {"of": fed["id"], "data": {**fed["data"], "adds": True}})
    assert states(helped(cleo, right, cleo.event("void", doe, {"of": look["id"]}))) == ["ok", "ok"]


@pytest.mark.parametrize("link", CHAINS)
def test_a_link_that_comes_first_is_judged_when_what_it_names_is_there(
    ada: Phone, cleo: Phone, doe: str, link: str
) -> None:
    content: dict[str, Any] = TREATED
    treated = ada.event("treatment", doe, content)
    early = cleo.event(link, doe, {"of": treated["id"]})
    if link == "correct":
        early["data"]["data"] = {**content, "milk_until": ""}
    assert states(helped(cleo, early)) == ["parked"]
    farm = Farm.objects.get(pk=ada.farm.pk)
    assert states(record(ada, treated)) == ["ok"]
    row = Event.objects.get(id=early["id"])
    assert (row.fold_status, row.seq) == ("refused", 2)
    assert [one["milk_until"] for one in view(ada)["does"][doe]["treatments"]] == ["2026-12-31"]
    again = told(ada, farm.seq, farm.outlook_rev)
    assert [(one["seq"], one["st"], one["code"]) for one in again] == [(2, "refused", NOT_ALLOWED)]
    assert again[0]["why"].startswith("The owner or family takes back")
    assert told(ada, farm.seq, Farm.objects.get(pk=ada.farm.pk).outlook_rev) == []
    assert [one["seq"] for one in bootstrap(ada.farm.id)["events"]] == [1, 3]
    assert [one["st"] for one in changes(Farm.objects.get(pk=ada.farm.pk), Cursor())["events"]] == [
        "ok",
        "refused",
        "ok",
    ]
    assert helped(cleo, early)[0]["code"] == NOT_ALLOWED


def test_a_link_on_a_link_waits_for_what_they_come_down_to(ada: Phone, cleo: Phone, doe: str) -> None:
    treated = ada.event("treatment", doe, TREATED)
    first = ada.event("void", doe, {"of": treated["id"]})
    second = cleo.event("void", doe, {"of": first["id"]})
    for order in permutations((treated, first, second)):
        Event.objects.exclude(kind="doe").delete()
        for event in order:
            sent((ada, cleo), event)
        assert not Event.objects.filter(id=second["id"], fold_status="ok").exists()
        assert Event.objects.filter(id__in=(treated["id"], first["id"]), fold_status="ok").count() == 2
        assert view(ada)["does"][doe]["treatments"] == []


def test_a_link_about_somebody_else_is_refused_when_that_comes_out(ada: Phone, doe: str) -> None:
    other = new_id()
    record(ada, ada.record("doe", other, {"name": "Elm"}))
    dry = ada.event("dried_off", other, {})
    early = ada.event("void", doe, {"of": dry["id"]})
    record(ada, early)
    record(ada, dry)
    assert Event.objects.get(id=early["id"]).fold_status == "refused"
    assert Ruling.objects.get().code == "bad_field"
    assert view(ada)["does"][other]["dried_on"] == dry["on"]


def test_a_rule_is_not_corrected_past_its_limits(ada: Phone) -> None:
    rule = ada.record("rules", ada.farm.id, {"level_pm": 90})
    record(ada, rule)
    wild = ada.event("correct", ada.farm.id, {"of": rule["id"], "data": {"f": {"level_pm": 5_000}, "base": {}}})
    assert record(ada, wild)[0]["field"] == "f.level_pm"


@pytest.mark.parametrize("length", [1, 2, 3, 5])
def test_entries_that_name_each_other_in_a_ring_are_refused_whichever_comes_last(
    ada: Phone, doe: str, length: int
) -> None:
    ring = [ada.event("void", doe, {"of": ""}) for _ in range(length)]
    for one, following in zip(ring, [*ring[1:], ring[0]], strict=True):
        one["data"]["of"] = following["id"]
    for order in permutations(ring) if length < 4 else [ring, ring[::-1]]:
        Event.objects.exclude(kind="doe").delete()
        answers = [record(ada, one)[0] for one in order]
        assert states(answers) == ["parked"] * (length - 1) + ["rejected"]
        assert (answers[-1]["code"], answers[-1]["field"]) == ("bad_field", "of")
    Event.objects.exclude(kind="doe").delete()
    assert states(record(ada, *ring)) == ["parked"] * (length - 1) + ["rejected"]


def test_one_thing_is_not_taken_back_and_put_back_for_ever(ada: Phone, doe: str) -> None:
    last = ada.event("udder", doe, LOOK)
    record(ada, last)
    answers = []
    for _ in range(60):
        last = ada.event("void", doe, {"of": last["id"]})
        answers += record(ada, last)
    assert states(answers) == ["ok"] * 49 + ["rejected"] + ["parked"] * 10
