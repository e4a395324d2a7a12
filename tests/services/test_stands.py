"""On the dates of a sitter's pack owners alone change what is planned, whatever came first."""

from __future__ import annotations

from itertools import islice, permutations
from typing import Any

import pytest

from herd.models import Event
from herd.models.farm import FAMILY, HELPER, OWNER
from herd.services.rebuild import rebuild
from tests.helping import NOT_ALLOWED
from tests.logs import record
from tests.people import People
from tests.phones import Phone, new_id, states

from .test_standing import fed_by_plan, hold, ration

WHY = "The amounts stand until 5 December: ask the owner."
FROM, TO = "2026-12-01", "2026-12-05"


@pytest.fixture
def ben(people: People) -> Phone:
    return Phone(people.farm, people.ben)


def packed(phone: Phone, subject: str = "", **f: Any) -> dict[str, Any]:
    dates = {} if subject else {"from_on": FROM, "to_on": TO}
    return phone.record("pack", subject or new_id(), {**dates, **f})


def family(phone: Phone, *events: Any) -> list[dict[str, Any]]:
    return record(phone, *events, role=FAMILY)


@pytest.mark.parametrize("role", [FAMILY, HELPER])
def test_amounts_stand_for_all_but_owners(ada: Phone, ben: Phone, doe: str, role: str) -> None:
    record(ada, ration(ada, doe, ("2026-11-01", 300)), packed(ada))
    for steps in (
        [("2026-12-01", 250)],
        [("2026-12-05", 250)],
        [("2026-11-20", 250)],
        [("2026-11-20", 250), ("2026-12-02", 300)],
        [("2026-12-04", 250), ("2026-12-06", 300)],
    ):
        answer = record(ben, ration(ben, doe, *steps), role=role)[0]
        assert (answer["st"], answer["code"], answer["why"]) == ("rejected", NOT_ALLOWED, WHY), steps
    assert record(ben, ration(ben, doe, ("2026-12-03", 10), feed="wheat"), role=role)[0]["why"] == WHY
    assert fed_by_plan(ada, doe) == [["2026-11-01", 300]]
    assert states(record(ada, ration(ada, doe, ("2026-12-02", 200)), role=OWNER)) == ["ok"]


def test_before_and_after_those_dates_the_family_plans_as_ever(ada: Phone, ben: Phone, doe: str) -> None:
    record(ada, ration(ada, doe, ("2026-11-01", 300)), packed(ada))
    assert states(family(ben, ration(ben, doe, ("2026-12-06", 500)))) == ["ok"]
    until = ration(ben, doe, ("2026-11-20", 400), (FROM, 300), ("2026-12-06", 600))
    assert states(family(ben, until)) == ["ok"]
    record(ada, packed(ada, from_on="2026-12-10", to_on="2026-12-12", gone=True))
    assert states(family(ben, ration(ben, doe, ("2026-12-10", 100)))) == ["ok"]


def test_what_is_no_plan_stays_open_to_all(ada: Phone, ben: Phone, cleo: Phone, doe: str) -> None:
    record(ada, ration(ada, doe, ("2026-11-01", 300)), packed(ada, from_on="2020-01-01", to_on="2099-01-01"))
    fed = cleo.event("fed", doe, {"adds": False, "lines": [{"to": doe, "feed": "oats", "g": 200}]})
    wish = {"to": "doe", "slot": "morning", "feed": "oats", "reason": "", "steps": [{"on": FROM, "g": 500}]}
    helps = [fed, hold(cleo, doe, "2099-01-01", out=True), cleo.event("wish", doe, wish)]
    assert set(states(record(cleo, *helps, role=HELPER))) == {"ok"}
    assert set(states(family(ben, hold(ben, doe, "")))) == {"ok"}


def test_a_ration_is_not_taken_back_into_those_dates(ada: Phone, ben: Phone, doe: str) -> None:
    given, more = ration(ada, doe, ("2026-11-01", 300)), ration(ben, doe, ("2026-11-10", 350))
    later = ration(ben, doe, ("2026-12-06", 500))
    record(ada, given)
    family(ben, more)
    record(ada, packed(ada))
    family(ben, later)
    answer = family(ben, ben.event("void", doe, {"of": more["id"]}))[0]
    assert (answer["st"], answer["why"]) == ("rejected", WHY)
    change = {"of": more["id"], "data": ration(ben, doe, ("2026-11-10", 1))["data"]}
    assert family(ben, ben.event("correct", doe, change))[0]["why"] == WHY
    assert states(family(ben, ben.event("void", doe, {"of": later["id"]}))) == ["ok"]
    assert fed_by_plan(ada, doe) == [["2026-11-01", 300], ["2026-11-10", 350]]
    # the amounts of those dates do not hang on this one
    assert states(family(ben, ben.event("void", doe, {"of": given["id"]}))) == ["ok"]
    assert states(record(ada, ada.event("void", doe, {"of": more["id"]}))) == ["ok"]


def test_the_same_in_every_order_of_arrival(ada: Phone, ben: Phone, doe: str) -> None:
    """300 by the owner; the pack; 400 by family, who had no signal; the pack taken away; 450."""
    given, pack = ration(ada, doe, ("2026-11-01", 300)), packed(ada)
    refused, undo = ration(ben, doe, ("2026-11-28", 400)), ben.event("void", doe, {"of": given["id"]})
    gone, more = packed(ada, pack["subject"], gone=True), ration(ben, doe, ("2026-11-29", 450))
    # Every fifth of the 720, which has each of the six in each place.
    for order in islice(permutations((given, pack, refused, undo, gone, more)), 0, None, 5):
        Event.objects.exclude(kind="doe").delete()
        for event in order:
            own = event["author"] == ada.person.pk
            record(ada if own else ben, event, role=OWNER if own else FAMILY)
        assert fed_by_plan(ada, doe) == [["2026-11-01", 300], ["2026-11-29", 450]]
        found = dict(Event.objects.values_list("id", "fold_status"))
        assert [found[one["id"]] for one in (refused, undo, more)] == ["refused", "refused", "ok"]
    rebuild(ada.farm.id)
    assert dict(Event.objects.values_list("id", "fold_status")) == found


def test_a_pack_taken_back_lets_in_what_it_kept_out(ada: Phone, ben: Phone, doe: str) -> None:
    """By its stamp, not by when it comes: the undo was said before that ration."""
    given, pack = ration(ada, doe, ("2026-11-01", 300)), packed(ada)
    undo = ada.event("void", pack["subject"], {"of": pack["id"]})
    more = ration(ben, doe, ("2026-12-02", 400))
    record(ada, given, pack)
    assert states(family(ben, more)) == ["rejected"]
    assert states(record(ada, undo)) == ["ok"]
    assert Event.objects.get(id=more["id"]).fold_status == "ok"
    assert fed_by_plan(ada, doe) == [["2026-11-01", 300], ["2026-12-02", 400]]


@pytest.mark.parametrize("role", [FAMILY, HELPER])
def test_who_makes_a_pack(ben: Phone, role: str) -> None:
    answer = record(ben, packed(ben), role=role)[0]
    assert answer["st"] == ("ok" if role == FAMILY else "rejected")
