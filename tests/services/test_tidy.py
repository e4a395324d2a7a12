from __future__ import annotations

from datetime import timedelta
from importlib import import_module
from typing import Any

from allauth.usersessions.models import UserSession
from django.conf import settings
from django.contrib.sessions.models import Session
from django.utils import timezone

from herd.models import Invitation, Seat
from herd.services.invitations import Place, invite
from herd.services.seats import take_seat
from herd.services.tidy import tidy
from tests.people import People
from tests.phones import Phone


def session(days: int) -> None:
    store: Any = import_module(settings.SESSION_ENGINE).SessionStore()
    store["x"] = 1
    store.save()
    Session.objects.filter(pk=store.session_key).update(expire_date=timezone.now() + timedelta(days=days))


def test_what_is_over_goes_and_the_rest_stays(people: People) -> None:
    session(-1)
    session(1)
    take_seat("old", people.ada, "")
    take_seat("new", people.ada, "")
    Seat.objects.filter(browser="old").update(used_at=timezone.now() - timedelta(days=200))
    invite(people.farm, Place("helper"), people.ada)
    invite(people.farm, Place("helper"), people.ada)
    last = Invitation.objects.order_by("-made_at")[0]
    Invitation.objects.filter(pk=last.pk).update(until_at=timezone.now() - timedelta(days=100))
    done = tidy()
    assert (done["sessions"], done["seats"], done["invitations"]) == (1, 1, 1)
    assert (Session.objects.count(), Seat.objects.count(), Invitation.objects.count()) == (1, 1, 1)


def test_a_phone_that_is_used_keeps_its_seats(people: People) -> None:
    phone = Phone(people.farm, people.ada).sign_in()
    phone.person = people.ben
    phone.sign_in()
    Seat.objects.update(used_at=timezone.now() - timedelta(days=200))
    store: Any = phone.client.session
    store["renewed_on"] = "2020-01-01"
    store.save()
    assert phone.get("changes").status_code == 200
    assert Seat.objects.count() == 2
    assert tidy()["seats"] == 0


def test_of_a_session_that_is_over_neither_address_nor_browser_stays(people: People) -> None:
    over, here = Phone(people.farm, people.ada).sign_in(), Phone(people.farm, people.ben).sign_in()
    keys = [phone.client.session.session_key for phone in (over, here)]
    Session.objects.filter(pk=keys[0]).update(expire_date=timezone.now() - timedelta(days=1))
    assert UserSession.objects.filter(session_key__in=keys).count() == 2
    assert tidy()["sign_ins"] == 1
    assert list(UserSession.objects.values_list("session_key", flat=True)) == [keys[1]]
    assert here.get("changes").status_code == 200
