from __future__ import annotations

import shutil
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from herd.models import Farm, Folded, OutlookRow
from herd.services import recompile as service
from herd.services import science
from herd.services.clock import day_of, now_ms
from herd.services.herd_card import card_inputs
from herd.services.rebuild import rebuild
from herd.services.recompile import recompile
from tests.logs import folded, outlooks, record
from tests.people import ZONE
from tests.phones import Phone, new_id

TODAY = day_of(now_ms(), ZONE)
Revs = dict[str, int]


@pytest.fixture
def doe(ada: Phone) -> str:
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": "Ivy", "size": "mini", "breed": "pygmy", "born_on": "2021-03-01"}))
    recompile(ada.farm.id)
    return doe


def revs(farm: Farm) -> Revs:
    return {row.doe: row.rev for row in OutlookRow.objects.filter(farm=farm)}


def test_the_first_turn_makes_the_book_and_each_doe(ada: Phone, doe: str) -> None:
    made = outlooks(ada.farm)
    assert set(made) == {"", doe}
    assert sorted(revs(ada.farm).values()) == [1, 2]
    assert {one["rev"] for one in made.values()} == {1, 2}
    assert made[doe]["doe"] == doe
    assert not Folded.objects.filter(stale=True).exists()


def test_a_second_turn_makes_nothing(ada: Phone, doe: str) -> None:
    before = revs(ada.farm)
    assert recompile(ada.farm.id) == 0
    assert revs(ada.farm) == before


@pytest.mark.parametrize(
    ("kind", "data"),
    [
        ("bred", {"from_on": "2026-09-01", "to_on": "2026-09-01", "how": "hand", "buck": ""}),
        ("weight", {"g": 31_000, "how": "scale", "girth_mm": 0, "length_mm": 0}),
        ("kidded", {"born": 2, "alive": 2}),
    ],
)
def test_what_shapes_her_makes_hers_anew_and_nobody_elses(ada: Phone, doe: str, kind: str, data: Any) -> None:
    before = revs(ada.farm)
    record(ada, ada.event(kind, doe, data))
    assert recompile(ada.farm.id) == 1
    assert revs(ada.farm) == {**before, doe: 3}


@pytest.mark.parametrize(
    ("kind", "data"),
    [
        ("moved", {"pen": ""}),
        ("udder", {"fill": 2, "uneven": False}),
        ("fed", {"lines": [{"to": "", "feed": "oats", "g": 100}], "adds": False}),
        ("intake", {"how": "refused", "left_pct": 0, "feed": "", "fed": ""}),
        ("ration", {"to": "doe", "slot": "", "feed": "oats", "steps": [{"on": "2026-11-01", "g": 9}], "base": ""}),
        ("note", {"text": "fine"}),
    ],
)
def test_what_does_not_shape_her_makes_nothing_and_is_not_even_due(ada: Phone, doe: str, kind: str, data: Any) -> None:
    record(ada, ada.event(kind, doe, data))
    assert not service.due(Farm.objects.get(pk=ada.farm.pk), TODAY)
    assert recompile(ada.farm.id) == 0


def test_milk_makes_hers_anew_tomorrow(ada: Phone, doe: str) -> None:
    record(ada, ada.event("kidded", doe, {"born": 2, "alive": 2}))
    recompile(ada.farm.id)
    record(ada, ada.event("milk", doe, {"g": 900, "fat_x100": 550}))
    assert recompile(ada.farm.id) == 0
    assert recompile(ada.farm.id, TODAY + timedelta(days=1)) == 1


def test_a_state_taken_back_gives_no_new_revision(ada: Phone, doe: str) -> None:
    before = revs(ada.farm)
    dry = ada.event("dried_off", doe, {})
    record(ada, dry, ada.event("void", doe, {"of": dry["id"]}))
    assert recompile(ada.farm.id) == 0
    assert revs(ada.farm) == before


def test_a_rule_makes_everything_anew(ada: Phone, doe: str) -> None:
    record(ada, ada.event("bred", doe, {"from_on": "2026-09-01", "to_on": "2026-09-01", "how": "hand", "buck": ""}))
    recompile(ada.farm.id)
    assert outlooks(ada.farm)[doe]["due"]["printed"] == "2027-01-24"
    record(ada, ada.record("rules", ada.farm.id, {"preg_days_mini": 147, "level_pm": 90}))
    recompile(ada.farm.id)
    assert outlooks(ada.farm)[""]["rules"]["level_pm"] == 90
    assert outlooks(ada.farm)[doe]["due"]["printed"] == "2027-01-26"


def test_a_feed_or_lot_makes_only_the_book_anew(ada: Phone, doe: str) -> None:
    before, feed, lot = revs(ada.farm), new_id(), new_id()
    record(ada, ada.record("feed", feed, {"name": "Our oats", "like": "oats", "cp_pct_x10": 121}))
    record(ada, ada.record("lot", lot, {"name": "May bag", "feed": feed}))
    assert recompile(ada.farm.id) == 1
    assert {feed, lot} <= set(outlooks(ada.farm)[""]["feeds"])
    assert revs(ada.farm)[doe] == before[doe]


def test_after_seven_days_hers_is_made_anew_and_not_before(ada: Phone, doe: str) -> None:
    assert recompile(ada.farm.id, TODAY + timedelta(days=6)) == 0
    assert recompile(ada.farm.id, TODAY + timedelta(days=7)) == 1
    assert outlooks(ada.farm)[doe]["compiled_on"] == (TODAY + timedelta(days=7)).isoformat()


def test_another_science_version_makes_all_anew(ada: Phone, doe: str, monkeypatch: Any) -> None:
    monkeypatch.setattr(service, "science_version", lambda: "9.9.9")
    monkeypatch.setattr(service, "compile_doe", lambda view, rules, today, doe, years: {"science": "9.9.9", "doe": doe})
    assert service.due(Farm.objects.get(pk=ada.farm.pk), TODAY)
    assert recompile(ada.farm.id) == 1
    assert Farm.objects.get(pk=ada.farm.pk).science == "9.9.9"
    assert not service.due(Farm.objects.get(pk=ada.farm.pk), TODAY)


def test_a_doe_who_left_does_not_keep_the_farm_due(ada: Phone, doe: str) -> None:
    record(ada, ada.event("left_herd", doe, {"why": "sold"}))
    recompile(ada.farm.id)
    assert recompile(ada.farm.id, TODAY + timedelta(days=30)) == 0
    assert not service.due(Farm.objects.get(pk=ada.farm.pk), TODAY + timedelta(days=60))


def test_one_doe_the_compiler_stumbles_over_holds_up_nobody(ada: Phone, doe: str, monkeypatch: Any) -> None:
    other, real = new_id(), service.compile_doe

    def stumbles(view: Any, rules: Any, today: Any, doe_id: str, years: Any) -> Any:
        return real(view, rules, today, doe_id) if doe_id == other else 1 / 0

    monkeypatch.setattr(service, "compile_doe", stumbles)
    record(ada, ada.record("doe", other, {"name": "Elm"}), ada.event("dried_off", doe, {}))
    assert recompile(ada.farm.id) == 1
    assert other in outlooks(ada.farm)


def test_what_changed_while_compiling_is_left_for_the_next_turn(ada: Phone, doe: str, monkeypatch: Any) -> None:
    real = service.compile_doe

    def slow(view: Any, rules: Any, today: Any, doe_id: str, years: Any) -> Any:
        monkeypatch.setattr(service, "compile_doe", real)
        record(ada, ada.event("dried_off", doe, {}))
        return real(view, rules, today, doe_id)

    monkeypatch.setattr(service, "compile_doe", slow)
    record(ada, ada.event("kidded", doe, {"born": 1, "alive": 1}))
    assert recompile(ada.farm.id) == 0
    assert service.due(Farm.objects.get(pk=ada.farm.pk), TODAY)
    assert recompile(ada.farm.id) == 1
    assert outlooks(ada.farm)[doe]["basis"]["dried"] == folded(ada.farm)[doe, "doe"]["dried_on"] != ""


def test_revisions_have_no_gaps_and_no_repeats(ada: Phone, doe: str) -> None:
    for n in range(5):
        record(ada, ada.event("weight", doe, {"g": 30_000 + n, "how": "scale", "girth_mm": 0, "length_mm": 0}))
        assert recompile(ada.farm.id) == 1
        assert Farm.objects.get(pk=ada.farm.pk).outlook_rev == 3 + n == revs(ada.farm)[doe]


def test_rebuilt_equals_live(ada: Phone, doe: str) -> None:
    record(ada, ada.event("bred", doe, {"from_on": "2026-09-01", "to_on": "2026-09-01", "how": "hand", "buck": ""}))
    record(ada, ada.event("score", new_id(), {"x100": 300}), ada.event("ketones", doe, {}))
    recompile(ada.farm.id)
    live, docs = folded(ada.farm), outlooks(ada.farm)
    Folded.objects.all().update(json='{"f":{},"left_on":""}')
    assert rebuild(ada.farm.id) == 0
    assert folded(ada.farm) == live
    assert outlooks(ada.farm) == docs
    OutlookRow.objects.all().delete()
    rebuild(ada.farm.id)
    assert [{**doc, "rev": 0} for doc in outlooks(ada.farm).values()] == [{**doc, "rev": 0} for doc in docs.values()]


def test_a_kind_learnt_later_is_taken_up_by_a_rebuild(ada: Phone, doe: str, monkeypatch: Any) -> None:
    from herd.services import roles
    from herd.state import kinds, payloads

    strange = ada.event("hoof_trim", doe, {})
    odd = ada.event("hoof_trim", doe, {"feet": 5})
    record(ada, strange, odd)
    monkeypatch.setitem(kinds.KINDS, "hoof_trim", kinds.Kind("hoof_trim", kinds.OBSERVATION, ("doe",)))
    monkeypatch.setitem(payloads.FORMS, ("hoof_trim", 1), {})
    assert "hoof_trim" not in roles.MAY["owner"], "what the table does not name is as usual for a role"
    rebuild(ada.farm.id)
    status = dict(ada.farm.events.filter(kind="hoof_trim").values_list("id", "fold_status"))
    assert status == {strange["id"]: "ok", odd["id"]: "parked"}


def fed(ada: Phone, doe: str, days_ago: int = 1) -> Any:
    on = (TODAY - timedelta(days=days_ago)).isoformat()
    lines = [{"to": "", "feed": "brome_hay", "g": 1500}]
    return ada.event("fed", doe, {"lines": lines, "adds": False}, on=on, slot="morning")


def water(ada: Phone) -> Any:
    values = [{"what": "sulfate", "printed": "900", "unit": "mg_l"}]
    return ada.event("water", ada.farm.id, {"place": "Well", "drunk_l": 40, "values": values})


def test_the_herds_card_is_made_the_day_after_a_feeding(ada: Phone, doe: str) -> None:
    record(ada, fed(ada, doe))
    assert not service.due(Farm.objects.get(pk=ada.farm.pk), TODAY)
    assert "card" not in outlooks(ada.farm)
    assert recompile(ada.farm.id, TODAY + timedelta(days=1)) == 1
    card = outlooks(ada.farm)["card"]
    assert (card["doe"], card["days"], card["rev"]) == ("card", 1, 3)
    assert recompile(ada.farm.id, TODAY + timedelta(days=1)) == 0


def test_a_water_test_makes_the_card_at_once_and_taking_it_back_too(ada: Phone, doe: str) -> None:
    test = water(ada)
    record(ada, fed(ada, doe), test)
    assert recompile(ada.farm.id) == 1
    assert outlooks(ada.farm)["card"]["water"]["tested"][0]["band"] == "amber"
    record(ada, ada.event("void", ada.farm.id, {"of": test["id"]}))
    assert recompile(ada.farm.id) == 1
    assert outlooks(ada.farm)["card"]["water"] is None


def test_a_label_changes_the_card_and_no_doe(ada: Phone, doe: str) -> None:
    record(ada, fed(ada, doe), water(ada))
    recompile(ada.farm.id)
    before = revs(ada.farm)
    label = {"name": "Mineral", "class": "mineral", "free_choice": True, "cu_ppm_x100": 150_000}
    record(ada, ada.record("feed", new_id(), label))
    recompile(ada.farm.id)
    after = revs(ada.farm)
    assert after["card"] > before["card"]
    assert after[doe] == before[doe]


def test_a_changed_number_is_another_science(tmp_path: Path) -> None:
    shutil.copytree(science.HERD / "outlook/tables", tmp_path / "outlook/tables")
    before = science.numbers_mark(tmp_path)
    rules = tmp_path / "outlook/tables/rules.toml"
    rules.write_text(rules.read_text().replace("weigh_again_d = { default = 120", "weigh_again_d = { default = 150"))
    assert science.numbers_mark(tmp_path) != before
    assert science.science_version().endswith(science.numbers_mark(science.HERD))


def test_the_card_knows_the_newest_water_test_whatever_was_taken_back_or_dated_anew(
    ada: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("herd.services.herd_card.TESTS", 2)
    at = [now_ms() - days * 86_400_000 for days in (300, 200, 100, 50, 20)]
    value = {"what": "sulfate", "printed": "90", "unit": "mg_l"}
    told = [{"place": f"Well {n}", "drunk_l": 40, "values": [value]} for n in range(5)]
    tests = [ada.event("water", ada.farm.pk, told[n], happened=at[n]) for n in range(5)]

    def newest() -> str:
        return str(max(card_inputs(ada.farm, TODAY)["water"], key=lambda test: test["on"])["place"])

    for test, then in zip(tests, at, strict=True):
        record(ada, test, now=then)
    assert newest() == "Well 4"
    record(ada, ada.event("void", ada.farm.pk, {"of": tests[4]["id"]}))
    assert newest() == "Well 3"
    later = {"of": tests[0]["id"], "data": told[0], "on": TODAY.isoformat()}
    record(ada, ada.event("correct", ada.farm.pk, later))
    assert newest() == "Well 0"
