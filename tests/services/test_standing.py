"""What a helper may do is judged by what the log holds, never by what came first; what fails is refused and told."""

from __future__ import annotations

from itertools import permutations
from typing import Any

import pytest

from herd.models import Event, Farm
from herd.models.farm import ADVISER, FAMILY, HELPER, OWNER
from herd.services import roles
from herd.services.rebuild import rebuild
from herd.services.standing import JUDGES
from herd.state.kinds import KINDS
from tests.helping import LOOK, NOT_ALLOWED, TREATED, helped, sent, told, view
from tests.logs import record
from tests.people import People
from tests.phones import Phone, new_id, states


def ration(phone: Phone, doe: str, *steps: tuple[str, int], feed: str = "oats") -> dict[str, Any]:
    rows = [{"on": on, "g": g} for on, g in steps]
    return phone.event("ration", doe, {"to": "doe", "slot": "morning", "feed": feed, "base": "", "steps": rows})


def fed_by_plan(phone: Phone, doe: str) -> list[Any]:
    return view(phone)["rations"].get(f"{doe}|morning|oats", {"steps": []})["steps"]


def hold(phone: Phone, doe: str, until: str, **more: Any) -> dict[str, Any]:
    return phone.event("freeze", doe, {"until_on": until, "grain_out": more.pop("out", False), "of": ""}, **more)


def day(phone: Phone, doe: str) -> str:
    return str(phone.event("udder", doe, LOOK)["on"])


ASKED = ("rules", "contact", "left_herd", "decline", "pack")


def test_the_table_says_something_about_every_kind_for_every_role() -> None:
    for role, table in roles.MAY.items():
        assert table.keys() == KINDS.keys(), role
    assert set(roles.MAY) == {OWNER, FAMILY, HELPER, ADVISER}
    refused = {kind for kind, may in roles.MAY[HELPER].items() if may.record == roles.NEVER}
    assert refused == roles.WHY.keys() == {*ASKED, "dry_plan", "own_task"}


@pytest.mark.parametrize("role", [OWNER, FAMILY])
def test_who_plans_may_do_all_of_it(people: People, ada: Phone, doe: str, role: str) -> None:
    ben, on = Phone(people.farm, people.ben), day(ada, doe)
    treated = ada.event("treatment", doe, TREATED)
    record(ada, treated, ration(ada, doe, (on, 100)), hold(ada, doe, "2099-01-01"))
    events = [
        ben.record("rules", ben.farm.id, {"level_pm": 90}),
        ben.record("contact", new_id(), {"name": "Vet", "phone": "1", "role": "vet"}),
        ben.record("doe", doe, {"order": 5}),
        ration(ben, doe, (on, 900)),
        hold(ben, doe, ""),
        ben.event("void", doe, {"of": treated["id"]}),
        ben.event("left_herd", doe, {"why": "sold"}),
    ]
    assert set(states(record(ben, *events, role=role))) == {"ok"}


@pytest.mark.parametrize(("kind", "field"), [("rules", "f"), ("contact", "f"), ("left_herd", "why")])
def test_a_helper_does_not_touch_what_is_the_owners(cleo: Phone, doe: str, kind: str, field: str) -> None:
    entry = {
        "rules": cleo.record("rules", cleo.farm.id, {"level_pm": 90}),
        "contact": cleo.record("contact", new_id(), {"name": "Vet", "phone": "1", "role": "vet"}),
        "left_herd": cleo.event("left_herd", doe, {"why": "died"}),
    }[kind]
    answer = helped(cleo, entry)[0]
    assert (answer["st"], answer["code"], answer["field"]) == ("rejected", NOT_ALLOWED, field)
    assert answer["why"].startswith("The owner or family")
    assert not Event.objects.filter(kind=kind).exists()


def test_a_helper_lowers_a_ration_and_never_raises_one(ada: Phone, cleo: Phone, doe: str) -> None:
    record(ada, ration(ada, doe, ("2026-03-01", 300), ("2026-03-05", 200)))
    less = ration(cleo, doe, ("2026-03-01", 250), ("2026-03-05", 200))
    assert states(helped(cleo, less)) == ["ok"]
    for steps in (
        [("2026-03-01", 251), ("2026-03-05", 0)],
        [("2026-02-01", 1)],
        [("2026-03-02", 210)],
        [("2026-03-06", 200), ("2026-04-01", 9_000)],
    ):
        answer = helped(cleo, ration(cleo, doe, *steps))[0]
        assert (answer["st"], answer["code"], answer["field"]) == ("rejected", NOT_ALLOWED, "steps")
        assert answer["why"] == "Only the owner or family raises a ration: ask one of them to do it."
    assert helped(cleo, ration(cleo, doe, ("2026-03-01", 1), feed="barley_grain"))[0]["code"] == NOT_ALLOWED
    assert fed_by_plan(ada, doe) == [["2026-03-01", 250], ["2026-03-05", 200]]
    undo = cleo.event("void", doe, {"of": less["id"]})
    assert states(helped(cleo, undo)) == ["ok"]
    assert fed_by_plan(ada, doe) == [["2026-03-01", 300], ["2026-03-05", 200]]


def test_taking_one_back_brings_no_refused_one_to_life(ada: Phone, cleo: Phone, doe: str) -> None:
    record(ada, ration(ada, doe, ("2026-03-01", 300)))
    less, more = ration(cleo, doe, ("2026-03-01", 100)), ration(cleo, doe, ("2026-03-01", 200))
    undo = cleo.event("void", doe, {"of": less["id"]})
    assert states(helped(cleo, less, more, undo)) == ["ok", "rejected", "ok"]
    assert fed_by_plan(ada, doe) == [["2026-03-01", 300]]


def test_a_plan_is_not_raised_by_correcting_it(ada: Phone, cleo: Phone, doe: str) -> None:
    record(ada, ration(ada, doe, ("2026-03-01", 300)))
    less = ration(cleo, doe, ("2026-03-01", 100))
    helped(cleo, less)
    more = cleo.event("correct", doe, {"of": less["id"], "data": ration(cleo, doe, ("2026-03-01", 900))["data"]})
    assert helped(cleo, more)[0]["code"] == NOT_ALLOWED
    assert record(ada, {**more, "id": new_id(), "author": ada.person.pk})[0]["st"] == "ok"
    assert fed_by_plan(ada, doe) == [["2026-03-01", 900]]


def test_what_stands_is_what_was_said_before_whenever_it_comes(ada: Phone, cleo: Phone, doe: str) -> None:
    """The owner gives 300, the helper lowers to 200, the owner had lowered to 100 meanwhile, without a signal."""
    given, lowered = ration(ada, doe, ("2026-03-01", 300)), ration(ada, doe, ("2026-03-01", 100))
    hers = ration(cleo, doe, ("2026-03-01", 200))
    for order in permutations((given, lowered, hers)):
        Event.objects.exclude(kind="doe").delete()
        for event in order:
            sent((ada, cleo), event)
        assert fed_by_plan(ada, doe) == [["2026-03-01", 100]]
        assert Event.objects.get(id=hers["id"]).fold_status == "refused"


def test_what_fits_again_counts_again_and_phones_are_told(ada: Phone, cleo: Phone, doe: str) -> None:
    hers = None
    given = ration(ada, doe, ("2026-03-01", 300))
    hers = ration(cleo, doe, ("2026-03-01", 200))
    answer = helped(cleo, hers)[0]
    assert (answer["st"], answer["seq"]) == ("rejected", 2)
    assert helped(cleo, hers)[0]["why"] == answer["why"]
    farm = Farm.objects.get(pk=ada.farm.pk)
    record(ada, given)
    assert fed_by_plan(ada, doe) == [["2026-03-01", 200]]
    assert [(one["seq"], one["st"]) for one in told(ada, farm.seq, farm.outlook_rev)] == [(2, "ok")]
    assert states(helped(cleo, hers)) == ["dup"]


def test_a_hold_is_made_longer_by_a_helper_and_never_shorter(ada: Phone, cleo: Phone, doe: str) -> None:
    today = day(ada, doe)
    record(ada, hold(ada, doe, "2099-01-10", out=True))
    loosening = [
        hold(cleo, doe, ""),
        hold(cleo, doe, "2099-01-09", out=True),
        hold(cleo, doe, "2000-01-01", out=True),
        hold(cleo, doe, "2099-01-10", out=False),
        hold(cleo, doe, "2099-12-01", out=True, on="2099-06-01"),
        hold(cleo, doe, "2000-01-01", out=True, on="2000-01-01"),
    ]
    for event in loosening:
        answer = helped(cleo, event)[0]
        assert (answer["st"], answer["field"]) == ("rejected", "until_on"), event["data"]
    assert states(helped(cleo, hold(cleo, doe, "2099-01-12", out=True))) == ["ok"]
    held = view(ada)["does"][doe]["freeze"]
    assert (held["since"], held["until"], held["grain_out"]) == (today, "2099-01-12", True)


def test_no_forged_stamp_or_time_ends_a_hold(ada: Phone, cleo: Phone, doe: str) -> None:
    """Said to be from before the hold, and to have happened after it."""
    theirs = hold(ada, doe, "2099-01-10", out=True)
    stamp = f"{theirs['happened'] - 1_000:012x}-0000-{cleo.device[:8]}"
    forged = hold(cleo, doe, "2099-01-05", out=True, happened=theirs["happened"] + 60_000, hlc=stamp)
    for order in permutations((theirs, forged)):
        Event.objects.exclude(kind="doe").delete()
        for event in order:
            sent((ada, cleo), event)
        assert view(ada)["does"][doe]["freeze"]["until"] == "2099-01-10"


def test_a_doe_added_without_a_signal_keeps_her_place_whatever_came_first(ada: Phone, cleo: Phone) -> None:
    doe = new_id()
    born = cleo.record("doe", doe, {"name": "Elm", "order": 4})
    named, moved = ada.record("doe", doe, {"tag": "7"}), cleo.record("doe", doe, {"order": 1})
    for order in permutations((born, named, moved)):
        Event.objects.all().delete()
        for event in order:
            sent((ada, cleo), event)
        assert view(ada)["does"][doe]["f"] == {"name": "Elm", "order": 4, "tag": "7"}


DAY_MS = 86_400_000


def early(phone: Phone, event: dict[str, Any], days: int) -> dict[str, Any]:
    """Her phone says that she recorded it days ago; or somebody made it say so."""
    at = event["entered"] - days * DAY_MS
    return {**event, "happened": at, "entered": at, "hlc": f"{at:012x}-0000-{phone.device[:8]}"}


MADE = [
    ("feed", "feeds", {"name": "Mix", "cp_pct_x10": 160}, {"ca_pct_x100": 4000}),
    ("feed", "feeds", {"name": "Mix"}, {"name": "Hers", "cp_pct_x10": 10}),
    ("lot", "lots", {"name": "Bale", "feed": "grass_hay"}, {"tdn_pct_x10": 900}),
    ("shelf", "shelf", {"product": "Bottle", "place": "door"}, {"told": "Give the lot", "card": "bloat"}),
    ("doe", "does", {"name": "Ivy"}, {"order": 7}),
    ("pen", "pens", {"name": "Barn"}, {"order": 7}),
]


@pytest.mark.parametrize(("kind", "part", "made", "hers"), MADE)
@pytest.mark.parametrize("days", [1, 9, 400])
def test_an_early_stamp_makes_no_record_of_the_owners_hers(
    ada: Phone, cleo: Phone, kind: str, part: str, made: dict[str, Any], hers: dict[str, Any], days: int
) -> None:
    subject = new_id()
    first, forged = ada.record(kind, subject, made), early(cleo, cleo.record(kind, subject, hers), days)
    stamp_only = {**forged, "id": new_id(), "entered": first["entered"], "happened": first["happened"]}
    for order in permutations((first, forged, stamp_only)):
        Event.objects.all().delete()
        for event in order:
            sent((ada, cleo), event)
        assert view(ada)[part][subject]["f"] == made
        assert set(Event.objects.filter(role=HELPER).values_list("fold_status", flat=True)) == {"refused"}


def test_what_a_helper_made_stays_hers_to_have_made_whatever_others_say_of_it_first(ada: Phone, cleo: Phone) -> None:
    feed = new_id()
    made = cleo.record("feed", feed, {"name": "Mix", "cp_pct_x10": 160})
    more = ada.record("feed", feed, {"ca_pct_x100": 300})
    named = ada.record("feed", feed, {"name": "Mixed"}, name=made["hlc"])
    for order in permutations((made, more, named)):
        Event.objects.all().delete()
        for event in order:
            sent((ada, cleo), event)
        assert view(ada)["feeds"][feed]["f"] == {"name": "Mixed", "cp_pct_x10": 160, "ca_pct_x100": 300}


def test_what_she_made_she_does_not_go_on_to_fill_by_an_early_stamp(ada: Phone, cleo: Phone) -> None:
    feed = new_id()
    made = cleo.record("feed", feed, {"name": "Mix", "cp_pct_x10": 160})
    forged = early(cleo, cleo.record("feed", feed, {"ca_pct_x100": 4000}), 9)
    for order in permutations((made, forged)):
        Event.objects.all().delete()
        for event in order:
            sent((ada, cleo), event)
        assert view(ada)["feeds"][feed]["f"] == made["data"]["f"]


def test_a_rebuild_judges_again_and_tells(ada: Phone, cleo: Phone, doe: str) -> None:
    record(ada, ration(ada, doe, ("2026-03-01", 300)))
    hers = ration(cleo, doe, ("2026-03-01", 900))
    helped(cleo, hers)
    Event.objects.filter(id=hers["id"]).update(fold_status="ok")
    farm = Farm.objects.get(pk=ada.farm.pk)
    rebuild(ada.farm.id)
    assert Event.objects.get(id=hers["id"]).fold_status == "refused"
    assert [one["st"] for one in told(ada, farm.seq, farm.outlook_rev)] == ["refused"]


def test_a_kind_learnt_later_is_judged_by_what_its_author_was(cleo: Phone, doe: str, monkeypatch: Any) -> None:
    from herd.state import kinds

    known = kinds.KINDS.copy()
    monkeypatch.delitem(kinds.KINDS, "left_herd")
    strange = cleo.event("left_herd", doe, {"why": "sold"})
    assert states(helped(cleo, strange)) == ["parked"]
    monkeypatch.setitem(kinds.KINDS, "left_herd", known["left_herd"])
    rebuild(cleo.farm.id)
    assert Event.objects.get(id=strange["id"]).fold_status == "refused"
    assert view(cleo)["does"][doe]["left_on"] == ""


def test_what_was_taken_before_roles_were_kept_stands(ada: Phone, cleo: Phone, doe: str) -> None:
    hers = ration(cleo, doe, ("2026-03-01", 900))
    record(cleo, hers, role=OWNER)
    Event.objects.update(role="")
    record(ada, ration(ada, doe, ("2026-03-02", 100)))
    rebuild(ada.farm.id)
    assert fed_by_plan(ada, doe) == [["2026-03-01", 900], ["2026-03-02", 100]]


def test_each_kind_that_hangs_on_what_stands_has_its_judge() -> None:
    hanging = {
        kind
        for kind, may in roles.MAY[HELPER].items()
        if may.record in (roles.NO_RAISE, roles.NO_END) or may.placed or may.never_sooner
    }
    assert hanging | {"pack"} == JUDGES.keys()
