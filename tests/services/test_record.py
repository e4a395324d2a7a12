from __future__ import annotations

import itertools
from typing import Any

import pytest
from django.db import OperationalError

from herd.models import Event, Farm, Folded
from herd.services import further
from herd.services import record_events as service
from herd.state.fold import fold
from tests.logs import folded, record, replayed
from tests.phones import Phone, new_id, states

FILL = {"fill": 2, "uneven": False}


def doe_of(ada: Phone, name: str = "Ivy") -> str:
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": name, "size": "mini"}))
    return doe


def test_seq_has_no_gaps_whatever_is_refused(ada: Phone) -> None:
    doe = doe_of(ada)
    bad = ada.event("udder", doe, {"fill": 9, "uneven": False})
    for _ in range(3):
        record(ada, ada.event("udder", doe, FILL), bad, ada.event("udder", doe, FILL), bad)
    assert list(Event.objects.order_by("seq").values_list("seq", flat=True)) == list(range(1, 8))
    assert Farm.objects.get(pk=ada.farm.pk).seq == 7


def test_a_fault_before_the_commit_writes_nothing_and_a_repeat_is_ok(ada: Phone, monkeypatch: Any) -> None:
    event = ada.record("doe", new_id(), {"name": "Ivy"})
    with monkeypatch.context() as patch:
        patch.setattr(service.Work, "settle", lambda self: (_ for _ in ()).throw(OperationalError("disk")))
        with pytest.raises(OperationalError):
            record(ada, event)
    assert not Event.objects.exists()
    assert Farm.objects.get(pk=ada.farm.pk).seq == 0
    assert states(record(ada, event)) == ["ok"]


def test_an_answer_lost_after_the_commit_is_answered_dup(ada: Phone) -> None:
    event = ada.record("doe", new_id(), {"name": "Ivy"})
    record(ada, event)
    assert states(record(ada, event)) == ["dup"]
    assert Event.objects.count() == 1


@pytest.mark.parametrize("order", list(itertools.permutations(range(4))), ids=str)
def test_order_of_arrival_does_not_matter(ada: Phone, order: tuple[int, ...]) -> None:
    doe = new_id()
    events = [
        ada.record("doe", doe, {"name": "Ivy"}),
        ada.event("bred", doe, {"from_on": "2026-07-01", "to_on": "2026-07-01", "how": "hand", "buck": ""}),
        ada.event("preg_check", doe, {"result": "pregnant", "kids": 2, "how": "scan"}),
        ada.event("dried_off", doe, {}),
    ]
    for place in order:
        record(ada, events[place])
    assert not Event.objects.filter(fold_status="parked").exists()
    view = fold(events)["does"][doe]
    assert folded(ada.farm)[doe, "doe"] == view
    assert (view["check"]["kids"], view["dried_on"]) == (2, events[3]["on"])


def test_a_late_event_older_than_others_is_folded_in_its_place(ada: Phone, ben: Phone) -> None:
    doe = doe_of(ada)
    day = 86_400_000
    breed = ada.event("bred", doe, {"from_on": "2026-06-01", "to_on": "2026-06-01", "how": "hand", "buck": ""})
    kid = ada.event("kidded", doe, {"born": 2, "alive": 2}, happened=breed["happened"] - 10 * day)
    record(ada, breed)
    record(ben, {**kid, "author": ben.person.pk, "device": ben.device})
    doe_now = folded(ada.farm)[doe, "doe"]
    assert doe_now["bred"]["ev"] == breed["id"]
    assert doe_now["kiddings"] == 1


def test_a_void_takes_back_and_a_void_of_the_void_brings_back(ada: Phone) -> None:
    doe = doe_of(ada)
    dry = ada.event("dried_off", doe, {})
    void = ada.event("void", doe, {"of": dry["id"]})
    record(ada, dry)
    assert folded(ada.farm)[doe, "doe"]["dried_on"] == dry["on"]
    record(ada, void)
    assert folded(ada.farm)[doe, "doe"]["dried_on"] == ""
    record(ada, ada.event("void", doe, {"of": void["id"]}))
    assert folded(ada.farm)[doe, "doe"]["dried_on"] == dry["on"]


def test_a_void_that_comes_before_its_target_waits_for_it(ada: Phone) -> None:
    doe = doe_of(ada)
    dry = ada.event("dried_off", doe, {})
    assert states(record(ada, ada.event("void", doe, {"of": dry["id"]}))) == ["parked"]
    assert states(record(ada, dry)) == ["ok"]
    assert folded(ada.farm)[doe, "doe"]["dried_on"] == ""
    assert not Event.objects.filter(fold_status="parked").exists()


def test_taking_the_record_back_sets_her_entries_aside_until_it_returns(ada: Phone) -> None:
    doe = new_id()
    born = ada.record("doe", doe, {"name": "Ivy"})
    dry, void = ada.event("dried_off", doe, {}), ada.event("void", doe, {"of": born["id"]})
    record(ada, born, dry)
    record(ada, void)
    assert not Folded.objects.filter(subject=doe).exists()
    assert [one["id"] for one in replayed(ada.farm, fold_status="parked")] == [dry["id"]]
    assert fold(replayed(ada.farm))["parked"] == [dry["id"]]
    record(ada, ada.event("void", doe, {"of": void["id"]}))
    assert folded(ada.farm)[doe, "doe"]["dried_on"] == dry["on"]


def test_a_correction_is_judged_by_the_kind_it_corrects(ada: Phone) -> None:
    doe = doe_of(ada)
    weight = ada.event("weight", doe, {"g": 30_000, "how": "scale", "girth_mm": 0, "length_mm": 0})
    record(ada, weight)
    wrong = record(ada, ada.event("correct", doe, {"of": weight["id"], "data": {"g": 5}}))[0]
    assert (wrong["st"], wrong["code"]) == ("rejected", "bad_field")
    right = {"g": 31_000, "how": "scale", "girth_mm": 0, "length_mm": 0}
    first = ada.event("correct", doe, {"of": weight["id"], "data": right})
    old_form = ada.event("correct", doe, {"of": first["id"], "data": {"kg_x10": 320}})
    assert states(record(ada, first, old_form)) == ["ok", "ok"]
    assert folded(ada.farm)[doe, "doe"]["weights"][0][1] == 32_000


def test_a_correction_that_turns_out_impossible_is_refused(ada: Phone) -> None:
    doe = doe_of(ada)
    score = ada.event("score", doe, {"x100": 300})
    bad = ada.event("correct", doe, {"of": score["id"], "data": {"x100": 9_999}})
    assert states(record(ada, bad)) == ["parked"]
    record(ada, score)
    assert Event.objects.get(id=bad["id"]).fold_status == "refused"
    assert record(ada, bad)[0]["code"] == "bad_field"
    assert folded(ada.farm)[doe, "doe"]["scores"][0][1] == 300


@pytest.mark.parametrize("kind", ["void", "correct"])
def test_a_link_cannot_name_itself_or_somebody_elses_entry(ada: Phone, kind: str) -> None:
    one, other = doe_of(ada, "Ivy"), doe_of(ada, "Elm")
    dry = ada.event("dried_off", one, {})
    record(ada, dry)
    more: dict[str, Any] = {"data": {}} if kind == "correct" else {}
    link = ada.event(kind, other, {"of": dry["id"], **more})
    assert record(ada, link)[0]["field"] == "subject"
    own = ada.event(kind, one, {"of": "", **more})
    own["data"]["of"] = own["id"]
    assert record(ada, own)[0]["field"] == "of"


def test_rules_belong_to_the_farm_and_stay_in_range(ada: Phone) -> None:
    other = ada.record("rules", new_id(), {"units": "lb"})
    wild = ada.record("rules", ada.farm.id, {"level_pm": 5_000})
    fine = ada.record("rules", ada.farm.id, {"units": "lb", "level_pm": 90})
    answers = record(ada, other, wild, fine)
    assert [one["field"] for one in answers] == ["subject", "f.level_pm", ""]
    assert folded(ada.farm)[ada.farm.id, "rules"]["f"] == {"units": "lb", "level_pm": 90}


def test_old_and_new_versions_of_one_kind_fold_alike(ada: Phone) -> None:
    doe = doe_of(ada)
    old = ada.event("weight", doe, {"kg_x10": 301}, v=1)
    new = ada.event("weight", doe, {"g": 30_200, "how": "tape", "girth_mm": 700, "length_mm": 600})
    assert states(record(ada, old, new)) == ["ok", "ok"]
    assert [row[1:3] for row in folded(ada.farm)[doe, "doe"]["weights"]] == [[30_100, "scale"], [30_200, "tape"]]


def test_only_the_last_milks_are_folded_and_they_are_the_last(ada: Phone, monkeypatch: Any) -> None:
    monkeypatch.setitem(further.MOST, "milk", 3)
    doe = doe_of(ada)
    now = ada.event("milk", doe, {"g": 1, "fat_x100": 0})["happened"]
    milks = [ada.event("milk", doe, {"g": n, "fat_x100": 0}, happened=now - n) for n in range(6)]
    record(ada, *milks)
    assert [row[1] for row in folded(ada.farm)[doe, "doe"]["milks"]] == [2, 1, 0]
