"""Somebody who is on the farm already goes by a sitter's pack, and her place reaches as far as it."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from herd.models import Audit, Membership, Person
from herd.services.clock import day_of, now_ms
from tests.people import ZONE, People
from tests.phones import Phone, new_id, states

from .test_members import member, says


def days(ahead: int) -> str:
    return (day_of(now_ms(), ZONE) + timedelta(days=ahead)).isoformat()


def packed(phone: Phone, first: int = 0, last: int = 4, subject: str = "", **f: Any) -> str:
    pack = subject or new_id()
    assert states(phone.push(phone.record("pack", pack, {"from_on": days(first), "to_on": days(last), **f}))) == ["ok"]
    return pack


def place(person: Person) -> tuple[date | None, date | None, str]:
    return Membership.objects.values_list("starts_on", "ends_on", "pack").get(person=person, farm__name="Hill")


def written(people: People) -> list[str]:
    return list(
        Audit.objects.filter(farm=people.farm, person=people.ada.pk).order_by("id").values_list("what", flat=True)
    )


def row_of(phone: Phone, person: Person) -> dict[str, Any]:
    return next(dict(row) for row in phone.get("changes").json()["people"] if row["id"] == person.pk)


def test_an_owner_gives_a_helper_a_pack_and_takes_it_away_again(ada: Phone, people: People) -> None:
    pack = packed(ada)
    asked = {"pack": pack, "starts_on": days(0), "ends_on": days(4)}
    answer = ada.ask("PATCH", member(ada, people.cleo), asked)
    assert answer.status_code == 200, answer.content
    [row] = [one for one in answer.json()["members"] if one["person"] == people.cleo.pk]
    assert {name: row[name] for name in asked} == asked
    assert {**row_of(ada, people.cleo)} == {"id": people.cleo.pk, "name": "Cleo", "role": "helper", **asked}
    assert ada.ask("PATCH", member(ada, people.cleo), {"pack": ""}).status_code == 200
    assert place(people.cleo) == (date.fromisoformat(days(0)), date.fromisoformat(days(4)), "")
    assert ada.ask("PATCH", member(ada, people.cleo), {"starts_on": None, "ends_on": None}).status_code == 200
    assert place(people.cleo) == (None, None, "")
    assert row_of(ada, people.cleo) == {"id": people.cleo.pk, "name": "Cleo", "role": "helper"}
    wanted = ["first_day_set", "last_day_set", "pack_given", "pack_taken", "first_day_gone", "last_day_gone"]
    assert [what for what in written(people) if what in wanted] == wanted


def test_her_last_day_is_moved_while_she_is_there_and_her_phone_goes_on(ada: Phone, people: People) -> None:
    cleo = Phone(people.farm, people.cleo).sign_in()
    pack = packed(ada, 0, 2)
    assert ada.ask("PATCH", member(ada, people.cleo), {"pack": pack, "ends_on": days(2)}).status_code == 200
    packed(ada, 0, 4, subject=pack)
    assert ada.ask("PATCH", member(ada, people.cleo), {"ends_on": days(4)}).status_code == 200
    # Three days on, by the server's clock.
    Membership.objects.filter(person=people.cleo).update(ends_on=days(1))
    assert cleo.get("changes").status_code == 200
    Membership.objects.filter(person=people.cleo).update(ends_on=days(-1))
    assert says(cleo.get("changes")) == (403, "removed")


def test_a_first_day_moved_earlier_lets_her_in(ada: Phone, people: People) -> None:
    cleo = Phone(people.farm, people.cleo).sign_in()
    change = {"starts_on": days(3), "ends_on": days(6)}
    assert ada.ask("PATCH", member(ada, people.cleo), change).status_code == 200
    assert says(cleo.get("changes")) == (403, "not_yet")
    assert ada.ask("PATCH", member(ada, people.cleo), {"starts_on": days(0)}).status_code == 200
    assert cleo.get("changes").status_code == 200
    assert place(people.cleo)[1] == date.fromisoformat(days(6))


def test_the_same_again_changes_nothing_and_is_not_written_down(ada: Phone, people: People) -> None:
    asked = {"pack": packed(ada), "starts_on": days(0), "ends_on": days(4)}
    for _ in range(2):
        assert ada.ask("PATCH", member(ada, people.cleo), asked).status_code == 200
    assert sorted(what for what in written(people) if "day" in what or "pack" in what) == [
        "first_day_set",
        "last_day_set",
        "pack_given",
    ]


@pytest.mark.parametrize("role", ["family", "helper", "adviser"])
def test_nobody_but_an_owner_gives_a_pack_or_days(ada: Phone, people: People, role: str) -> None:
    pack = packed(ada)
    Membership.objects.filter(person=people.ben, farm=people.farm).update(role=role)
    ben = Phone(people.farm, people.ben).sign_in()
    for asked in ({"pack": pack}, {"starts_on": days(1)}, {"ends_on": days(1)}):
        for whom in (people.cleo, people.ben):
            assert says(ben.ask("PATCH", member(ben, whom), asked)) == (403, "not_allowed")
    assert place(people.cleo) == place(people.ben) == (None, None, "")


@pytest.mark.parametrize(
    ("asked", "where", "said"),
    [
        ({"starts_on": 5, "ends_on": 3}, "ends_on", "The last day must not be before the first, nor past."),
        ({"ends_on": -1}, "ends_on", "The last day must not be before the first, nor past."),
        ({"starts_on": 9}, "starts_on", "The first day must not be after the last."),
    ],
)
def test_days_that_cannot_be_are_refused_and_nothing_of_it_is_kept(
    ada: Phone, people: People, asked: dict[str, int], where: str, said: str
) -> None:
    assert ada.ask("PATCH", member(ada, people.cleo), {"ends_on": days(6)}).status_code == 200
    asks = {"pack": packed(ada), **{name: days(ahead) for name, ahead in asked.items()}}
    answer = ada.ask("PATCH", member(ada, people.cleo), asks)
    assert says(answer) == (400, "bad_field")
    assert (answer.json()["where"], answer.json()["message"]) == (where, said)
    assert place(people.cleo) == (None, date.fromisoformat(days(6)), "")


@pytest.mark.parametrize("asked", [{"starts_on": "tomorrow"}, {"starts_on": 7}, {"pack": 7}, {"pack": None}])
def test_what_is_no_day_and_no_pack_is_400(ada: Phone, people: People, asked: dict[str, Any]) -> None:
    answer = ada.ask("PATCH", member(ada, people.cleo), asked)
    assert (says(answer), answer.json()["where"]) == ((400, "bad_field"), next(iter(asked)))


def test_a_pack_must_be_one_of_this_farm_that_stands(ada: Phone, people: People) -> None:
    dov = Phone(people.dovs_farm, people.dov).sign_in()
    unknown = "This farm has no such pack: send what waits on your phone, then give it again."
    turned = "That pack ends before it begins: change its days first."
    over = "The days of that pack are over: change them first."
    for pack, why in (
        (packed(dov), unknown),
        (new_id(), unknown),
        (packed(ada, gone=True), unknown),
        (packed(ada, 4, 2), turned),
        (packed(ada, -4, -1), over),
    ):
        answer = ada.ask("PATCH", member(ada, people.cleo), {"pack": pack})
        assert says(answer) == (400, "bad_field")
        assert (answer.json()["where"], answer.json()["message"]) == ("pack", why)
    assert place(people.cleo) == (None, None, "")


def test_only_a_helper_goes_by_a_pack(ada: Phone, people: People) -> None:
    pack = packed(ada)
    for person in (people.ada, people.ben):
        answer = ada.ask("PATCH", member(ada, person), {"pack": pack})
        assert (says(answer), answer.json()["where"]) == ((400, "bad_field"), "pack")
    assert ada.ask("PATCH", member(ada, people.ben), {"role": "helper", "pack": pack}).status_code == 200
    assert place(people.ben)[2] == pack
    assert ada.ask("PATCH", member(ada, people.ben), {"role": "family"}).status_code == 200
    assert place(people.ben) == (None, None, "")
