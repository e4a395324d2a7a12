"""A new phone starts from a short list; folding it, and whatever comes later, must give the farm as it is."""

from __future__ import annotations

import random
from concurrent.futures import ThreadPoolExecutor
from datetime import date, timedelta
from typing import Any

import pytest
from django.db import connection

from herd.models import Event, Farm
from herd.services import bootstrap
from herd.services.bootstrap import cutoff_of, snapshot
from herd.services.clock import day_of, now_ms
from herd.services.short_list import in_force
from herd.state.fold import View, fold
from tests.logs import record, replayed
from tests.people import ZONE, make_people
from tests.phones import Phone, new_id

DAY_MS = 86_400_000
TODAY = day_of(now_ms(), ZONE)
FILL = {"fill": 2, "uneven": False}
# Promised however old; a few more are kept, for those that were taken back.
LATEST = {"score": 3, "weight": 2, "milk": 3}


class Past:
    """Records events as they were recorded, days ago."""

    def __init__(self, phone: Phone) -> None:
        self.phone = phone

    def event(self, days_ago: int, kind: str, subject: str, data: dict[str, Any]) -> dict[str, Any]:
        return self.phone.event(kind, subject, data, happened=now_ms() - days_ago * DAY_MS)

    def __call__(self, days_ago: int, kind: str, subject: str, data: dict[str, Any]) -> dict[str, Any]:
        event = self.event(days_ago, kind, subject, data)
        answer = record(self.phone, event, now=now_ms() - days_ago * DAY_MS)[0]
        assert answer["st"] in ("ok", "parked"), answer
        return event

    def write(self, days_ago: int, kind: str, subject: str, fields: dict[str, Any], base: str = "") -> dict[str, Any]:
        return self(days_ago, kind, subject, {"f": fields, "base": dict.fromkeys(fields, base)})


@pytest.fixture
def past(ada: Phone) -> Past:
    return Past(ada)


def on(days_ago: int) -> str:
    return (TODAY - timedelta(days=days_ago)).isoformat()


def short_and_whole(phone: Phone) -> tuple[View, View]:
    short = [one.event for one in snapshot(phone.farm)]
    return trimmed(fold(short), phone), trimmed(fold(replayed(phone.farm)), phone)


def trimmed(view: View, phone: Phone) -> View:
    """The part of a view a new phone has to have: records, state, what is fed, and 60 days of what was seen."""
    cutoff = cutoff_of(phone.farm)
    edge_ms = now_ms() - 60 * DAY_MS
    does = {
        doe_id: {
            **doe,
            "scores": doe["scores"][-LATEST["score"] :],
            "weights": doe["weights"][-LATEST["weight"] :],
            "milks": doe["milks"][-LATEST["milk"] :],
            "udder": [row for row in doe["udder"] if row[0] >= cutoff],
            "signs": [row for row in doe["signs"] if row[0] >= edge_ms],
        }
        for doe_id, doe in view["does"].items()
    }
    rations = {key: {**one, "steps": in_force(one["steps"], cutoff)} for key, one in view["rations"].items()}
    lately = {part: [one for one in view[part] if one["on"] >= cutoff] for part in ("feedings", "intakes", "notes")}
    asked = [one for one in view["questions"] if one["kind"] != "fed_twice" or one["field"][:10] >= cutoff]
    kept = {part: view[part] for part in ("pens", "feeds", "lots", "rules", "parked")}
    return {**kept, **lately, "does": does, "rations": rations, "questions": asked}


def kept_ids(phone: Phone) -> set[str]:
    return {one.event["id"] for one in snapshot(phone.farm)}


def test_old_observations_go_and_recent_ones_stay(ada: Phone, past: Past) -> None:
    doe = new_id()
    past.write(200, "doe", doe, {"name": "Ivy"})
    old, new = past(90, "udder", doe, FILL), past(20, "udder", doe, FILL)
    ids = kept_ids(ada)
    assert old["id"] not in ids
    assert new["id"] in ids


def test_the_latest_scores_weights_and_milks_stay_however_old(ada: Phone, past: Past) -> None:
    doe = new_id()
    past.write(300, "doe", doe, {"name": "Ivy"})
    scores = [past(200 - n, "score", doe, {"x100": 300}) for n in range(8)]
    milks = [past(200 - n, "milk", doe, {"g": 900 + n, "fat_x100": 0}) for n in range(8)]
    ids = kept_ids(ada)
    assert [one["id"] in ids for one in scores] == [False] * 2 + [True] * 6
    assert [one["id"] in ids for one in milks] == [False] * 2 + [True] * 6
    assert short_and_whole(ada)[0] == short_and_whole(ada)[1]


def test_a_voided_score_holds_its_place_and_the_promised_ones_are_there(ada: Phone, past: Past) -> None:
    doe = new_id()
    past.write(300, "doe", doe, {"name": "Ivy"})
    scores = [past(200 - n, "score", doe, {"x100": 300}) for n in range(8)]
    before = kept_ids(ada)
    past(180, "void", doe, {"of": scores[-1]["id"]})
    short, whole = short_and_whole(ada)
    assert short == whole
    assert [row[3] for row in short["does"][doe]["scores"]] == [one["id"] for one in scores[4:7]]
    assert not {one["id"] for one in scores} & (kept_ids(ada) - before)


def test_a_void_stays_with_what_it_voids_and_goes_with_it(ada: Phone, past: Past) -> None:
    doe = new_id()
    past.write(300, "doe", doe, {"name": "Ivy"})
    old, dry = past(90, "udder", doe, FILL), past(80, "dried_off", doe, {})
    of_old, of_dry = past(89, "void", doe, {"of": old["id"]}), past(79, "void", doe, {"of": dry["id"]})
    again = past(78, "void", doe, {"of": of_dry["id"]})
    ids = kept_ids(ada)
    assert of_old["id"] not in ids
    assert {dry["id"], of_dry["id"], again["id"]} <= ids


def test_an_old_entry_corrected_into_the_window_stays(ada: Phone, past: Past) -> None:
    doe = new_id()
    past.write(300, "doe", doe, {"name": "Ivy"})
    look = past(90, "udder", doe, FILL)
    past(89, "correct", doe, {"of": look["id"], "data": {"fill": 3, "uneven": True}, "on": on(3)})
    short, whole = short_and_whole(ada)
    assert short == whole
    assert short["does"][doe]["udder"][0][:2] == [on(3), 3]


def test_superseded_writes_go_when_long_superseded_and_stay_when_lately(ada: Phone, past: Past) -> None:
    doe = new_id()
    first = past.write(200, "doe", doe, {"name": "A"})
    second = past.write(190, "doe", doe, {"name": "B"}, first["hlc"])
    third = past.write(10, "doe", doe, {"tag": "7"})
    assert first["id"] not in kept_ids(ada)
    assert {second["id"], third["id"]} <= kept_ids(ada)
    assert short_and_whole(ada)[0] == short_and_whole(ada)[1]


def test_an_edit_taken_back_after_the_bootstrap_brings_the_old_value_back(ada: Phone, past: Past) -> None:
    doe = new_id()
    first = past.write(200, "doe", doe, {"name": "A"})
    second = past.write(100, "doe", doe, {"name": "B"}, first["hlc"])
    third = past.write(1, "doe", doe, {"name": "C"}, second["hlc"])
    start = [one.event for one in snapshot(ada.farm)]
    assert first["id"] not in {event["id"] for event in start}
    seq = Event.objects.filter(farm=ada.farm).count()
    past(0, "void", doe, {"of": third["id"]})
    later = replayed(ada.farm, seq__gt=seq)
    assert fold([*start, *later])["does"][doe]["f"] == {"name": "B"}


def test_what_is_fed_comes_back_when_a_new_ration_is_taken_back(ada: Phone, past: Past) -> None:
    doe = new_id()
    past.write(300, "doe", doe, {"name": "Ivy"})
    data = {"to": "doe", "slot": "morning", "feed": "oats"}
    old = past(100, "ration", doe, {**data, "base": "", "steps": [{"on": on(100), "g": 100}]})
    new = past(1, "ration", doe, {**data, "base": old["hlc"], "steps": [{"on": on(90), "g": 300}]})
    start = [one.event for one in snapshot(ada.farm)]
    seq = Event.objects.filter(farm=ada.farm).count()
    past(0, "void", doe, {"of": new["id"]})
    later = replayed(ada.farm, seq__gt=seq)
    assert [ration["steps"] for ration in fold([*start, *later])["rations"].values()] == [[[on(100), 100]]]


def test_an_open_question_comes_along_with_both_sides(ada: Phone, past: Past) -> None:
    doe = new_id()
    past.write(200, "doe", doe, {"name": "A", "size": "mini"})
    past.write(190, "doe", doe, {"size": "standard"})
    short, whole = short_and_whole(ada)
    assert short == whole
    assert len(short["questions"]) == 1


def test_dropping_a_middle_write_never_invents_a_question(ada: Phone, past: Past) -> None:
    doe = new_id()
    first = past.write(200, "doe", doe, {"name": "A", "size": "mini"})
    second = past.write(190, "doe", doe, {"size": "standard"}, first["hlc"])
    past.write(180, "doe", doe, {"size": "mini"}, second["hlc"])
    short, whole = short_and_whole(ada)
    assert short == whole
    assert short["questions"] == []


def test_rations_long_replaced_go_and_what_is_fed_now_stays(ada: Phone, past: Past) -> None:
    doe = new_id()
    past.write(300, "doe", doe, {"name": "Ivy"})
    base, sets = "", []
    for n, days_ago in enumerate((200, 180, 160, 100)):
        data = {"to": "doe", "slot": "morning", "feed": "oats", "base": base}
        steps = [{"on": on(days_ago), "g": 100 + n}, {"on": on(days_ago - 5), "g": 150 + n}]
        sets.append(past(days_ago, "ration", doe, {**data, "steps": steps}))
        base = sets[-1]["hlc"]
    ids = kept_ids(ada)
    assert [one["id"] in ids for one in sets] == [False, False, False, True]
    assert short_and_whole(ada)[0] == short_and_whole(ada)[1]


def test_parked_entries_come_along_but_for_old_looks_at_an_unnamed_doe(ada: Phone, past: Past) -> None:
    doe, later = new_id(), new_id()
    past.write(300, "doe", doe, {"name": "Ivy"})
    strange, move = past(200, "ketones", doe, {}), past(200, "moved", later, {"pen": ""})
    look, new = past(200, "udder", later, FILL), past(20, "udder", later, FILL)
    ids = kept_ids(ada)
    assert {strange["id"], move["id"], new["id"]} <= ids
    assert look["id"] not in ids
    past.write(1, "doe", later, {"name": "Moss"})
    assert short_and_whole(ada)[0] == short_and_whole(ada)[1]


def test_what_comes_after_the_bootstrap_fits_on_it(ada: Phone, past: Past) -> None:
    doe = new_id()
    past.write(300, "doe", doe, {"name": "Ivy", "size": "mini"})
    dry = past(100, "dried_off", doe, {})
    start = [one.event for one in snapshot(ada.farm)]
    seq = Event.objects.filter(farm=ada.farm).count()
    past(1, "void", doe, {"of": dry["id"]})
    past.write(0, "doe", doe, {"size": "standard"})
    later = replayed(ada.farm, seq__gt=seq)
    assert trimmed(fold([*start, *later]), ada) == trimmed(fold(replayed(ada.farm)), ada)


@pytest.mark.parametrize("seed", range(12))
def test_generated_histories_fold_alike(ada: Phone, past: Past, seed: int) -> None:
    """Random writes, rations, observations, voids and corrections over 150 days; some answered, some in conflict."""
    dice = random.Random(seed)
    does = [new_id() for _ in range(3)]
    written: list[dict[str, Any]] = [past.write(160, "doe", doe, {"name": "A", "size": "mini"}) for doe in does]
    for days_ago in sorted((dice.randrange(150) for _ in range(90)), reverse=True):
        written.append(something(dice, past, days_ago, dice.choice(does), written))
    short, whole = short_and_whole(ada)
    assert short == whole
    assert len(snapshot(ada.farm)) < Event.objects.count()


def something(
    dice: random.Random, past: Past, days_ago: int, doe: str, written: list[dict[str, Any]]
) -> dict[str, Any]:
    own = [event for event in written if event["subject"] == doe and event["kind"] != "correct"]
    base = dice.choice([own[-1]["hlc"], own[0]["hlc"], ""])
    kind = dice.choice(["doe", "doe", "ration", "ration", "score", "milk", "udder", "moved", "void", "correct", "fed"])
    if kind == "doe":
        field, value = dice.choice([("size", dice.choice(["mini", "standard"])), ("tag", str(dice.randrange(3)))])
        return past.write(days_ago, "doe", doe, {field: value}, base)
    if kind == "void":
        return past(days_ago, "void", doe, {"of": dice.choice(own[1:] or own)["id"]})
    if kind == "correct":
        scores = [event for event in own if event["kind"] == "score"]
        if scores:
            data = {"of": dice.choice(scores)["id"], "data": {"x100": 350}, "on": on(dice.randrange(100))}
            return past(days_ago, "correct", doe, data)
        kind = "score"
    start = date.fromisoformat(on(days_ago))
    steps = [{"on": (start + timedelta(days=4 * n)).isoformat(), "g": dice.randrange(3) * 50} for n in range(2)]
    data = {
        "ration": {"to": "doe", "slot": "", "feed": dice.choice(["oats", "hay"]), "steps": steps, "base": base},
        "score": {"x100": 250 + 25 * dice.randrange(5)},
        "milk": {"g": dice.randrange(2000), "fat_x100": 0},
        "udder": FILL,
        "moved": {"pen": ""},
        "fed": {"lines": [{"to": "", "feed": "hay", "g": 500}], "adds": False},
    }[kind]
    return past(days_ago, kind, doe, data)


def test_a_new_phones_start_holds_up_nobody_who_writes(transactional_db: None, settings: Any, monkeypatch: Any) -> None:
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    people = make_people()
    phone = Phone(people.farm, people.ada)
    record(phone, phone.record("doe", new_id(), {"name": "Ivy"}))

    def at_once() -> list[str]:
        try:
            return [one["st"] for one in record(phone, phone.record("doe", new_id(), {"name": "Elm"}))]
        finally:
            connection.close()

    real, said = bootstrap.snapshot, []

    def meanwhile(farm: Farm) -> Any:
        with ThreadPoolExecutor(1) as pool:
            said.extend(pool.submit(at_once).result(timeout=10))
        return real(farm)

    monkeypatch.setattr(bootstrap, "snapshot", meanwhile)
    page = bootstrap.bootstrap(people.farm.pk)
    assert said == ["ok"]
    assert (page["seq"], len(page["events"])) == (1, 1), "of the instant it began"
