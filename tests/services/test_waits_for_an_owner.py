"""A helper's raise and a helper's cut late wait for who plans; holding back one meal waits for nobody."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from herd.models import Event
from tests.helping import NOT_ALLOWED, helped, sent, view
from tests.logs import record
from tests.phones import Phone, new_id, now_ms, states
from tests.services.test_standing import fed_by_plan, hold, ration

LATE_WHY = "This late before kidding only the owner or family cuts a ration: ask one of them to do it."


def bred(phone: Phone, doe: str, ago_d: int) -> dict[str, Any]:
    """So many days before what she is asked about, and said long before it."""
    on = (date(2026, 3, 1) - timedelta(days=ago_d)).isoformat()
    data = {"from_on": on, "to_on": on, "how": "hand", "buck": ""}
    return phone.event("bred", doe, data, on=on, happened=now_ms() - 86_400_000)


@pytest.mark.parametrize(("ago_d", "g", "st"), [(110, 250, "rejected"), (110, 280, "ok"), (60, 250, "ok")])
def test_a_helpers_cut_late_waits_and_a_small_or_an_early_one_does_not(
    ada: Phone, cleo: Phone, doe: str, ago_d: int, g: int, st: str
) -> None:
    record(ada, bred(ada, doe, ago_d), ration(ada, doe, ("2026-03-01", 300)))
    answer = helped(cleo, ration(cleo, doe, ("2026-03-01", g)))[0]
    assert (answer["st"], answer["why"]) == (st, LATE_WHY if st == "rejected" else "")


def test_many_small_cuts_are_one(ada: Phone, cleo: Phone, doe: str) -> None:
    record(ada, bred(ada, doe, 110), ration(ada, doe, ("2026-03-01", 300)))
    cuts = [ration(cleo, doe, ("2026-03-01", g)) for g in (280, 260)]
    assert states(helped(cleo, *cuts)) == ["ok", "rejected"]
    assert fed_by_plan(ada, doe) == [["2026-03-01", 280]]


def test_a_cut_for_later_is_one_from_the_day_she_is_late(ada: Phone, cleo: Phone, doe: str) -> None:
    record(ada, bred(ada, doe, 60), ration(ada, doe, ("2026-03-01", 300)))
    assert helped(cleo, ration(cleo, doe, ("2026-03-01", 300), ("2026-05-01", 100)))[0]["why"] == LATE_WHY


def test_a_pens_hay_is_cut_by_no_helper_while_one_in_it_is_late(ada: Phone, cleo: Phone, doe: str) -> None:
    pen = new_id()
    theirs = [
        bred(ada, doe, 110),
        ada.record("pen", pen, {"name": "Dry"}),
        ada.event("moved", doe, {"pen": pen}, happened=now_ms() - 86_400_000),
        ration(ada, pen, ("2026-03-01", 4_000)),
    ]
    hers = ration(cleo, pen, ("2026-03-01", 3_000))
    for order in ([*theirs, hers], [hers, *theirs], [*theirs[1:], hers, theirs[0]]):
        Event.objects.exclude(kind="doe").delete()
        for event in order:
            sent((ada, cleo), event)
        assert fed_by_plan(ada, pen) == [["2026-03-01", 4_000]]
        assert Event.objects.get(id=hers["id"]).fold_status == "refused"


def test_a_kidding_after_it_brings_no_refused_cut_to_life(ada: Phone, cleo: Phone, doe: str) -> None:
    record(ada, bred(ada, doe, 110), ration(ada, doe, ("2026-03-01", 300)))
    helped(cleo, ration(cleo, doe, ("2026-03-01", 100)))
    record(ada, ada.event("kidded", doe, {"born": 2, "alive": 2}))
    assert fed_by_plan(ada, doe) == [["2026-03-01", 300]]


def test_what_a_helper_wants_waits_until_it_is_let_in_or_declined(ada: Phone, cleo: Phone, doe: str) -> None:
    given = ration(ada, doe, ("2026-03-01", 300))
    record(ada, given)
    wishes = [cleo.event("wish", doe, {**wanted(given), "steps": [{"on": "2026-03-02", "g": g}]}) for g in (400, 500)]
    assert states(helped(cleo, *wishes)) == ["ok", "ok"]
    assert fed_by_plan(ada, doe) == [["2026-03-01", 300]]
    assert [one["declined"] for one in view(ada)["wishes"]] == [None, None]
    no = {"of": wishes[1]["id"], "word": "After kidding"}
    assert helped(cleo, cleo.event("decline", doe, no))[0]["code"] == NOT_ALLOWED
    let_in = ration(ada, doe, ("2026-03-02", 400))
    let_in |= {"v": 2, "data": {**let_in["data"], "wish": wishes[0]["id"]}}
    assert states(record(ada, let_in, ada.event("decline", doe, no))) == ["ok", "ok"]
    assert fed_by_plan(ada, doe) == [["2026-03-01", 300], ["2026-03-02", 400]]
    assert [one["declined"]["word"] for one in view(ada)["wishes"]] == ["After kidding"]


def wanted(given: dict[str, Any]) -> dict[str, Any]:
    return {**{name: given["data"][name] for name in ("to", "slot", "feed")}, "reason": "She is thin."}


def barn_with_her(ada: Phone, doe: str) -> str:
    pen = new_id()
    hay = ration(ada, pen, ("2026-03-01", 4_000))
    record(ada, ada.record("pen", pen, {"name": "Barn"}), ada.event("moved", doe, {"pen": pen}), hay)
    return pen


def a_move(phone: Phone, doe: str, barn: str, stall: str) -> list[dict[str, Any]]:
    """What one tap writes: tomorrow she stands in a pen made for her, with hay there and less where she stood."""
    made = [phone.record("pen", stall, {"name": "Her pen"}), phone.event("moved", doe, {"pen": stall}, on="2026-03-02")]
    rations = [ration(phone, stall, ("2026-03-02", 700)), ration(phone, barn, ("2026-03-02", 2_600))]
    return [*made, *({**one, "v": 2, "data": {**one["data"], "act": "move"}} for one in rations)]


def test_a_move_is_taken_in_whole_and_taken_out_whole(ada: Phone, doe: str) -> None:
    barn, stall = barn_with_her(ada, doe), new_id()
    before = {name: view(ada)[name] for name in ("pens", "rations", "does")}
    written = a_move(ada, doe, barn, stall)
    assert set(states(record(ada, *written))) == {"ok"}
    assert (view(ada)["does"][doe]["pen"], fed_by_plan(ada, stall)) == (stall, [["2026-03-02", 700]])
    record(ada, *(ada.event("void", one["subject"], {"of": one["id"]}) for one in written))
    assert {name: view(ada)[name] for name in ("pens", "rations", "does")} == before


def test_no_helpers_move_leaves_a_pen_with_hay_nobody_who_plans_has_set(ada: Phone, cleo: Phone, doe: str) -> None:
    barn, stall = barn_with_her(ada, doe), new_id()
    # she may move a doe and make a pen; what is fed there she has to ask for
    assert states(helped(cleo, *a_move(cleo, doe, barn, stall))) == ["ok", "ok", "rejected", "ok"]
    assert fed_by_plan(ada, stall) == []


def test_a_move_a_helper_wants_waits_whole_and_moves_nobody_until_it_is_let_in(
    ada: Phone, cleo: Phone, doe: str
) -> None:
    barn, stall = barn_with_her(ada, doe), new_id()
    place = {"to": "pen", "slot": "morning", "feed": "oats", "reason": "", "act": "move"}
    wishes = [
        cleo.event("wish", subject, {**place, "steps": [{"on": "2026-03-02", "g": g}], "pen": pen}, v=2)
        for subject, g, pen in ((doe, 700, stall), (barn, 2_600, ""))
    ]
    assert states(helped(cleo, *wishes)) == ["ok", "ok"]
    assert [(one["subject"], one["pen"]) for one in view(ada)["wishes"]] == [(doe, stall), (barn, "")]
    assert (view(ada)["does"][doe]["pen"], list(view(ada)["pens"])) == (barn, [barn])
    written = a_move(ada, doe, barn, stall)
    for one, wish in zip(written[2:], wishes, strict=True):
        one["data"]["wish"] = wish["id"]
    assert set(states(record(ada, *written))) == {"ok"}
    assert (view(ada)["wishes"], view(ada)["does"][doe]["pen"]) == ([], stall)


def test_a_meal_held_back_waits_for_nobody(ada: Phone, cleo: Phone, doe: str) -> None:
    record(ada, bred(ada, doe, 110), ration(ada, doe, ("2026-03-01", 300)))
    assert states(helped(cleo, hold(cleo, doe, "2099-01-01", out=True))) == ["ok"]
