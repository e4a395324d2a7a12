"""The fold: arrival order does not matter, repeats change nothing, chains settle, wrong winners are asked about."""

from __future__ import annotations

import json
import random
from typing import Any

from herd.state.fold import fold
from tests.support.log import Log


def same(events: list[dict[str, Any]]) -> str:
    return json.dumps(fold(events), sort_keys=True)


def small_farm() -> Log:
    log = Log()
    log.record("doe", "fern", name="Fern", size="mini")
    log.record("doe", "moss", name="Moss", size="standard")
    log.pen("dry", "fern", "moss")
    log.add("bred", "fern", {"from_on": "2026-08-01", "to_on": "2026-08-01", "how": "hand", "buck": ""}, "2026-08-01")
    log.ration("dry", "morning", "hay", ("2026-10-01", 4000))
    meal = log.fed("dry", "2026-11-01", "morning", ("", "hay", 4000))
    log.intake("fern", "2026-11-02", "evening", "left_some", 40, fed=meal)
    log.score("fern", "2026-11-01", 300)
    return log


def test_arrival_order_and_repeats_change_nothing() -> None:
    events = small_farm().events
    want = same(events)
    shuffler = random.Random(4)
    for _ in range(50):
        mixed = events + shuffler.choices(events, k=5)
        shuffler.shuffle(mixed)
        assert same(mixed) == want


def test_an_intake_takes_date_and_slot_from_the_feeding_it_names() -> None:
    view = fold(small_farm().events)
    assert (view["intakes"][0]["on"], view["intakes"][0]["slot"], view["intakes"][0]["left_pm"]) == (
        "2026-11-01",
        "morning",
        400,
    )


def test_a_void_can_itself_be_undone() -> None:
    log = small_farm()
    score = log.score("fern", "2026-11-03", 250)
    first = log.add("void", "fern", {"of": score})
    assert [row[1] for row in fold(log.events)["does"]["fern"]["scores"]] == [300]
    log.add("void", "fern", {"of": first})
    assert [row[1] for row in fold(log.events)["does"]["fern"]["scores"]] == [300, 250]


def test_the_latest_correction_stands_and_its_undo_brings_back_the_one_before() -> None:
    log = small_farm()
    score = log.score("moss", "2026-11-03", 250)
    log.add("correct", "moss", {"of": score, "data": {"x100": 275}})
    last = log.add("correct", "moss", {"of": score, "data": {"x100": 300}, "on": "2026-11-04"})
    assert fold(log.events)["does"]["moss"]["scores"][0][:2] == ["2026-11-04", 300]
    log.add("void", "moss", {"of": last})
    assert fold(log.events)["does"]["moss"]["scores"][0][:2] == ["2026-11-03", 275]


def test_a_void_older_than_its_target_does_nothing_and_a_missing_target_waits() -> None:
    log = small_farm()
    early = log.add("void", "fern", {"of": "e99999"})
    assert fold(log.events)["parked"] == [early]
    log.events.append({**log.events[7], "id": "e99999", "hlc": "zzz"})
    assert fold(log.events)["voided"] == {}


def test_an_unknown_kind_or_subject_is_parked_until_it_can_be_placed() -> None:
    log = small_farm()
    strange = log.add("sheared", "fern", {})
    orphan = log.score("nobody", "2026-11-01", 300)
    assert fold(log.events)["parked"] == [strange, orphan]
    log.record("doe", "nobody", name="Nell")
    view = fold(log.events)
    assert view["parked"] == [strange]
    assert view["does"]["nobody"]["scores"][0][1] == 300


def test_kidding_ends_the_pregnancy_and_the_dry_spell() -> None:
    log = small_farm()
    log.add("dried_off", "fern", {}, "2026-11-05")
    assert fold(log.events)["does"]["fern"]["dried_on"] == "2026-11-05"
    log.add("kidded", "fern", {"born": 2, "alive": 2}, "2026-11-19")
    doe = fold(log.events)["does"]["fern"]
    assert (doe["bred"], doe["dried_on"], doe["kiddings"], doe["kidded"]["born"]) == (None, "", 1, 2)


def test_a_late_entry_for_an_earlier_day_takes_its_place_by_happening() -> None:
    log = small_farm()
    log.add("kidded", "moss", {"born": 1, "alive": 1}, "2026-11-01")
    log.add("bred", "moss", {"from_on": "2026-06-01", "to_on": "2026-06-01", "how": "hand", "buck": ""}, "2026-06-01")
    doe = fold(log.events)["does"]["moss"]
    assert doe["bred"] is None
    assert doe["kidded"]["on"] == "2026-11-01"


def test_an_empty_scan_opens_her() -> None:
    log = small_farm()
    log.add("preg_check", "fern", {"result": "open", "kids": 0, "how": "scan"}, "2026-09-20")
    doe = fold(log.events)["does"]["fern"]
    assert doe["bred"] is None
    assert doe["check"]["result"] == "open"


def test_a_field_written_without_seeing_the_other_value_is_asked_about_where_it_can_hurt() -> None:
    log = small_farm()
    stamp = log.events[0]["hlc"]
    log.record("doe", "fern", {"size": stamp, "name": stamp}, size="standard", name="Ferny")
    log.record("doe", "fern", {"size": stamp, "name": stamp}, size="mini", name="Fern B")
    view = fold(log.events)
    assert view["does"]["fern"]["f"] == {"name": "Fern B", "size": "mini"}
    assert [(q["field"], [v["value"] for v in q["values"]]) for q in view["questions"]] == [
        ("size", ["standard", "mini"])
    ]
    log.record("doe", "fern", {"size": view["does"]["fern"]["stamp"]["size"]}, size="standard")
    assert fold(log.events)["questions"] == []


def test_a_ration_replaces_from_its_first_date_on_and_keeps_what_was_before() -> None:
    log = small_farm()
    first = log.events[-4]
    log.ration("dry", "morning", "hay", ("2026-11-10", 5000), ("2026-11-20", 6000), base=first["hlc"])
    ration = fold(log.events)["rations"]["dry|morning|hay"]
    assert ration["steps"] == [["2026-10-01", 4000], ["2026-11-10", 5000], ["2026-11-20", 6000]]


def test_two_rations_set_apart_raise_one_question_and_an_answer_closes_it() -> None:
    log = small_farm()
    log.ration("dry", "morning", "hay", ("2026-11-10", 5000), base="")
    view = fold(log.events)
    assert [q["kind"] for q in view["questions"]] == ["ration"]
    log.ration("dry", "morning", "hay", ("2026-11-10", 4500), base=view["rations"]["dry|morning|hay"]["hlc"])
    assert fold(log.events)["questions"] == []


def test_two_feedings_of_one_slot_are_both_kept_with_one_question() -> None:
    log = small_farm()
    log.fed("dry", "2026-11-01", "morning", ("", "hay", 3000))
    view = fold(log.events)
    assert len(view["feedings"]) == 2
    assert [(q["kind"], q["field"]) for q in view["questions"]] == [("fed_twice", "2026-11-01|morning")]
    log.fed("dry", "2026-11-01", "morning", ("", "hay", 500), adds=True)
    assert len(fold(log.events)["questions"]) == 1


def test_payload_values_of_the_wrong_type_change_nothing_and_are_named() -> None:
    log = small_farm()
    want = fold(log.events)
    bad = [
        log.add("score", "fern", {"x100": "300"}),
        log.add("fed", "dry", {"lines": "hay"}),
        log.add("weight", "fern", {"g": True, "how": "scale"}),
        log.add("signs", "fern", {"seen": ["pawing", 3], "absent": []}),
        log.add("doe", "fern", {"f": {"name": {"a": 1}}, "base": {}}),
    ]
    view = fold(log.events)
    assert [(row["ev"], row["why"]) for row in view["aside"]] == [(mark, "field") for mark in bad]
    assert {**view, "aside": []} == want
