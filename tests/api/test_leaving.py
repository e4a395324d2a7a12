"""The farm's last doors: who may open them, and what is left behind."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path
from typing import Any

import pytest
from django.apps import apps
from django.conf import settings
from django.contrib.sessions.models import Session
from django.core.cache import caches

from api import leaving
from herd.models import Audit, Author, Blob, Event, Farm, Invitation, Membership, Person
from herd.models.farm import FAMILY, OWNER
from herd.services.invitations import Place, accept, invite
from herd.services.limits import Limit
from herd.services.make_farm import add_member
from herd.services.media import keep
from tests.people import PASSWORD, People
from tests.phones import Phone, new_id
from tests.support.media import jpeg, mark

DOORS = ("export", "close", "people/{person}/erase")
SAID = {"password": PASSWORD, "name": "Hill"}


def knock(phone: Phone, farm: Farm, door: str, person: str = "", **said: Any) -> Any:
    return phone.send(f"/api/farms/{farm.id}/{door.format(person=person or new_id())}", {**SAID, **said})


@pytest.fixture
def cleo(people: People) -> Phone:
    return Phone(people.farm, people.cleo).sign_in()


@pytest.mark.parametrize("door", DOORS)
def test_only_an_owner_who_gives_the_password_again(
    people: People, ada: Phone, ben: Phone, cleo: Phone, door: str
) -> None:
    dov = Phone(people.farm, people.dov).sign_in()
    before = Event.objects.count(), Farm.objects.count(), Person.objects.count()
    for phone, code in ((ben, "not_allowed"), (cleo, "not_allowed"), (dov, "not_found")):
        assert knock(phone, people.farm, door).json()["code"] == code
    for said in ({"password": "not it"}, {"password": ""}, {"password": 7}, {"password": None}):
        answer = knock(ada, people.farm, door, person=people.cleo.pk, **said)
        assert answer.status_code == 400, answer.content
        assert set(answer.json()) == {"code", "message", "where"}
    assert knock(Phone(people.farm, people.ada), people.farm, door).json()["code"] in ("sign_in", "csrf")
    assert (Event.objects.count(), Farm.objects.count(), Person.objects.count()) == before


def test_a_password_is_not_tried_for_ever(people: People, ada: Phone) -> None:
    codes = [knock(ada, people.farm, "export", password=f"no {n}").json()["code"] for n in range(12)]
    assert codes[:10] == ["wrong_password"] * 10
    assert codes[10:] == ["busy", "busy"]
    assert Audit.objects.filter(farm=people.farm, what="wrong_password").count() == 10


def test_a_farms_files_are_counted_for_all_workers(people: People, ada: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(leaving, "EXPORTS", Limit("exports", 2, 60))
    said = []
    for _ in range(4):
        # Another worker counts in its own memory.
        caches["worker"].clear()
        said.append(knock(ada, people.farm, "export").status_code)
    assert said == [200, 200, 429, 429]
    assert knock(Phone(people.dovs_farm, people.dov).sign_in(), people.dovs_farm, "export").status_code == 200
    assert Audit.objects.filter(farm=people.farm, what="exported").count() == 2


def test_a_blank_behind_the_password_does_not_count(people: People, ada: Phone) -> None:
    assert knock(ada, people.farm, "export", password=f"{PASSWORD} ").status_code == 200


def test_wrong_ones_count_at_every_door_together(people: People, ada: Phone) -> None:
    for n in range(5):
        knock(ada, people.farm, "close", password=f"no {n}")
        ada.ask("PUT", "/api/me/pin", {"pin": "1234", "password": f"no {n}"})
    assert ada.send("/api/session", {"name": "Ada", "password": PASSWORD}).json()["code"] == "busy"


def test_the_farm_comes_as_a_file_and_nothing_stays_on_the_server(people: People, ada: Phone) -> None:
    ada.push(ada.record("doe", new_id(), {"name": "Ivy"}))
    answer = knock(ada, people.farm, "export")
    assert answer["Content-Type"] == "application/zip"
    assert "Hill" in answer["Content-Disposition"]
    with zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content))) as zipped:
        assert zipped.testzip() is None
        assert b"Ivy" in zipped.read("tables/doe.csv")
    assert not [path for path in Path(settings.DATA_DIR).glob("tmp*") if path.is_dir()]
    assert Audit.objects.get(farm=people.farm, what="exported").person == people.ada.pk


def test_a_closed_farm_leaves_no_row_and_its_phones_are_told(people: People, ada: Phone, ben: Phone) -> None:
    ada.push(ada.record("doe", new_id(), {"name": "Ivy"}), ada.record("doe", new_id(), {"name": 9}))
    for farm in (people.farm, people.dovs_farm):
        keep(farm.id, people.ada.pk, mark(jpeg()), jpeg())
    assert knock(ada, people.farm, "close", name="Hull").json()["where"] == "name"
    assert knock(ada, people.farm, "close", name="hill").json() == {"closed": people.farm.id}
    for model in apps.get_app_config("herd").get_models():
        if any(field.related_model is Farm for field in model._meta.concrete_fields):
            assert not model._default_manager.filter(farm_id=people.farm.id).exists(), model.__name__
    for phone in (ada, ben):
        answers = [phone.get("changes"), phone.get("bootstrap"), phone.push_raw(phone.body([]))]
        assert [(one.status_code, one.json()["code"]) for one in answers] == [(403, "removed")] * 3
    stranger = Phone(people.farm, people.dov).sign_in()
    assert stranger.get("changes").status_code == 404
    assert Farm.objects.filter(pk=people.dovs_farm.pk).exists()
    [left] = Blob.objects.all()
    assert (left.farm_id, bytes(left.content)) == (people.dovs_farm.pk, jpeg())


def test_a_name_goes_and_what_was_recorded_stays(people: People, ada: Phone, cleo: Phone) -> None:
    doe = new_id()
    ada.push(ada.record("doe", doe, {"name": "Ivy"}))
    cleo.push(cleo.event("udder", doe, {"fill": 2, "uneven": False}))
    keep(people.farm.id, people.cleo.pk, mark(jpeg()), jpeg())
    Audit.objects.create(farm=people.farm, what="member_set", detail="Cleo, helper; not Cleopatra")
    answer = knock(ada, people.farm, DOORS[2], person=people.cleo.pk)
    assert answer.json() == {"erased": people.cleo.pk, "everywhere": True}
    assert not Person.objects.filter(name="Cleo").exists()
    assert Event.objects.filter(farm=people.farm, author=people.cleo.pk).count() == 1
    assert ada.client.get(f"/api/farms/{people.farm.id}/media/{mark(jpeg())}").content == jpeg()
    assert [one["name"] for one in ada.get("changes").json()["people"]] == ["Ada", "Ben"]
    told = Audit.objects.get(what="member_set", detail__contains="Cleopatra").detail
    assert told == "somebody who left, helper; not Cleopatra"
    assert cleo.get("changes").status_code == 401
    assert people.cleo.pk not in [one.get_decoded().get("_auth_user_id") for one in Session.objects.all()]


@pytest.mark.parametrize("everywhere", [True, False])
def test_no_invitation_or_sign_in_tells_of_her_afterwards(people: People, ada: Phone, everywhere: bool) -> None:
    """The name the owner wrote on it, and where she signed in from."""
    person = Person.objects.make("Fay", PASSWORD) if everywhere else people.dov
    used, _ = invite(people.farm, Place("helper", whom="Fay of the mill"), people.ada)
    accept(used, person)
    old, _ = invite(people.farm, Place("helper", whom=person.name.upper()), people.ada)
    other, _ = invite(people.farm, Place("helper", whom="Gus"), people.ada)
    phone = Phone(people.farm, person)
    phone.client.defaults["HTTP_USER_AGENT"] = "Barnphone 9"
    phone.sign_in()
    assert Audit.objects.filter(farm=people.farm, what="sign_in", detail__contains="Barnphone").exists()
    assert knock(ada, people.farm, DOORS[2], person=person.pk).json()["everywhere"] is everywhere
    whom = dict(Invitation.objects.values_list("pk", "whom"))
    assert whom == {used.pk: "", old.pk: "", other.pk: "Gus"}
    rows = Audit.objects.filter(farm=people.farm, person=person.pk, what="sign_in")
    assert [row.detail for row in rows] == [""]


def test_somebody_who_is_on_another_farm_goes_from_this_one_alone(people: People, ada: Phone) -> None:
    add_member(people.farm, people.dov, FAMILY, by=people.ada)
    answer = knock(ada, people.farm, DOORS[2], person=people.dov.pk)
    assert answer.json()["everywhere"] is False
    assert Person.objects.filter(name="Dov").exists()
    assert Membership.objects.filter(person=people.dov, farm=people.dovs_farm).exists()
    dov = Phone(people.farm, people.dov).sign_in()
    assert dov.get("changes").json()["code"] == "removed"


def test_a_name_that_came_with_a_file_goes_too(people: People, ada: Phone) -> None:
    Author.objects.create(farm=people.farm, person="someone-from-before", name="Fay", role="helper")
    assert knock(ada, people.farm, DOORS[2], person="someone-from-before").status_code == 200
    assert not Author.objects.exists()
    assert knock(ada, people.farm, DOORS[2], person="nobody").json()["code"] == "not_found"


def test_the_last_owner_stays_while_others_are_on_the_farm(people: People, ada: Phone) -> None:
    assert knock(ada, people.farm, DOORS[2], person=people.ada.pk).json()["code"] == "last_owner"
    add_member(people.farm, people.ben, OWNER, by=people.ada)
    assert knock(ada, people.farm, DOORS[2], person=people.ada.pk).status_code == 200
    assert ada.get("changes").json()["code"] == "removed"
