"""What is kept for ever and what is not: scoops and their weighings, treatments, held grain, rounds and looks."""

from __future__ import annotations

from typing import Any

from herd.models import Event, Folded
from herd.services.bootstrap import snapshot
from herd.services.clock import now_ms
from herd.state.fold import fold
from tests.logs import record, replayed
from tests.phones import Phone, new_id, states

DAY_MS = 86_400_000
TREATED = {"told": "", "why": "", "who": "vet", "milk_until": "", "meat_until": "", "carries": []}
LOOKED = {"of": "", "new_feed": "", "water_bad": "", "bullied": "", "suspect": "", "result": "same"}
SCOOP = {"name": "Blue", "feed": "barley", "order": 0, "gone": False}


def weighed(phone: Phone, subject: str, *fills_g: int) -> dict[str, Any]:
    return phone.event("calibration", subject, {"of": "scoop", "fills_g": list(fills_g), "lot": ""})


def test_a_weighing_waits_for_its_scoop_and_is_set_aside_while_the_scoop_is_taken_back(ada: Phone) -> None:
    scoop = new_id()
    first, born = weighed(ada, scoop, 210, 220), ada.record("scoop", scoop, SCOOP)
    assert states(record(ada, first)) == ["parked"]
    record(ada, born)
    assert Event.objects.get(id=first["id"]).fold_status == "ok"
    assert [one["fills_g"] for one in fold(replayed(ada.farm))["calibrations"][scoop]] == [[210, 220]]
    record(ada, ada.event("void", scoop, {"of": born["id"]}))
    assert Event.objects.get(id=first["id"]).fold_status == "parked"
    assert not Folded.objects.filter(subject=scoop).exists()


def test_a_weighing_of_a_hay_lot_and_a_scoop_in_one_batch(ada: Phone) -> None:
    lot, scoop = new_id(), new_id()
    batch = (
        weighed(ada, lot, 1_600),
        ada.record("lot", lot, {"name": "Barn", "feed": "grass_hay"}),
        ada.record("scoop", scoop, SCOOP),
        weighed(ada, scoop, 200),
    )
    record(ada, *batch)
    assert set(fold(replayed(ada.farm))["calibrations"]) == {lot, scoop}
    assert not Event.objects.filter(fold_status="parked").exists()


def test_a_new_phone_gets_what_is_kept_for_ever_and_only_the_lately_seen(ada: Phone) -> None:
    doe, scoop, pen = new_id(), new_id(), new_id()

    def past(days_ago: int, event: dict[str, Any]) -> str:
        happened = now_ms() - days_ago * DAY_MS
        answer = record(ada, event, now=happened)[0]
        assert answer["st"] == "ok", answer
        return str(event["id"])

    def event(days_ago: int, kind: str, subject: str, data: dict[str, Any]) -> dict[str, Any]:
        return ada.event(kind, subject, data, happened=now_ms() - days_ago * DAY_MS)

    past(400, event(400, "doe", doe, {"f": {"name": "Ivy"}, "base": {}}))
    past(400, event(400, "scoop", scoop, {"f": SCOOP, "base": {}}))
    lasting = [
        past(300, event(300, "treatment", doe, {"product": "Bolus", **TREATED})),
        past(299, event(299, "freeze", doe, {"until_on": "", "grain_out": False, "of": ""})),
        past(298, event(298, "calibration", scoop, {"of": "scoop", "fills_g": [200], "lot": ""})),
        past(297, event(297, "new_bag", ada.farm.id, {"feed": "barley"})),
        past(296, event(296, "contact", new_id(), {"f": {"name": "Vet"}, "base": {}})),
    ]
    old = [
        past(90, event(90, "triage", doe, LOOKED)),
        past(90, event(90, "round", pen, {"what": "heads", "count": 5, "of": 6})),
    ]
    new = [
        past(9, event(9, "triage", doe, LOOKED)),
        past(9, event(9, "round", pen, {"what": "heads", "count": 6, "of": 6})),
    ]
    kept = {one.event["id"] for one in snapshot(ada.farm)}
    assert [one in kept for one in lasting] == [True] * 5
    assert [one in kept for one in (*old, *new)] == [False, False, True, True]


def test_an_old_checkup_put_right_in_its_own_form_counts_in_todays(ada: Phone) -> None:
    doe = new_id()
    readings = {"temp_c_x10": 390, "bhb_x10": 0, "urine": ""}
    first = {**ada.event("checkup", doe, readings), "v": 1}
    fix = ada.event("correct", doe, {"of": first["id"], "data": {**readings, "temp_c_x10": 401}})
    assert states(record(ada, ada.record("doe", doe, {"name": "Ivy"}), first, fix)) == ["ok"] * 3
    [row] = fold(replayed(ada.farm))["does"][doe]["checkups"]
    assert row[2] == 401
    assert row[7] == {"cud": "", "dung": "", "legs": "", "eyes": 0, "udder": "", "belly": ""}
