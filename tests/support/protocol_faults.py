"""What can go wrong with people, seats and the worker while phones talk to a farm: see protocol_control.py."""

from __future__ import annotations

import random
from typing import Any

from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore

from herd.models import Event, Farm, Membership, OutlookRow, Person, Quarantine
from herd.models.farm import FAMILY, OWNER
from herd.services import members, set_aside
from herd.services.clock import now_ms
from herd.services.for_the_owner import waiting
from herd.services.seats import take_seat
from herd.services.work import take_next as lease
from herd.services.work import turn, work_off

Answer = Any


def session(person: str, browser: str = "", seated: list[str] | None = None) -> Answer:
    """The cookie of a fresh sign-in, on a browser where others have signed in before and not out again."""
    people = {one.pk: one for one in Person.objects.filter(pk__in=[person, *(seated or [])])}
    store = SessionStore()
    store[SESSION_KEY], store[BACKEND_SESSION_KEY] = person, "django.contrib.auth.backends.ModelBackend"
    store[HASH_SESSION_KEY] = people[person].get_session_auth_hash()
    if browser:
        store["seats"] = {pk: one.get_session_auth_hash() for pk, one in people.items()}
        store["browser"] = browser
        for one in people.values():
            take_seat(browser, one, "")
    store.save()
    return store.session_key


def role(farm: str, person: str, role: str) -> Answer:
    return Membership.objects.filter(farm_id=farm, person_id=person).update(role=role)


def remove(farm: str, person: str, role: str) -> Answer:
    Membership.objects.filter(farm_id=farm, person_id=person).update(role=role)
    owner = Membership.objects.filter(farm_id=farm, role=OWNER).exclude(person_id=person).first()
    members.remove(Farm.objects.get(pk=farm), person, owner.person)  # type: ignore[union-attr]
    return True


def come_back(farm: str, person: str) -> Answer:
    who = Membership.everyone.filter(farm_id=farm, person_id=person)
    return who.update(gone_at=None, gone_why="", role=FAMILY)


def let_in(farm: str, seed: int) -> Answer:
    """The owner goes through her list: some of it, or all where no seed is given. How many came in, and what stays."""
    place, dice = Farm.objects.get(pk=farm), random.Random(seed)
    by = Membership.objects.filter(farm=place, role=OWNER).first()
    rows = [row.pk for row in waiting(farm)]
    some = [pk for pk in rows if seed == 0 or dice.random() < 0.5]
    answers = [set_aside.let_in(place, pk, by.person) for pk in some]  # type: ignore[union-attr]
    return sum(answer is not None and answer["st"] != "rejected" for answer in answers)


def known(farm: str) -> Answer:
    """Every entry the server has, counted or kept."""
    kept = Quarantine.objects.filter(farm_id=farm).values_list("event_id", flat=True)
    return [*Event.objects.filter(farm_id=farm).values_list("id", flat=True), *kept]


def work(farm: str, all: bool = False) -> Answer:
    """A turn of the worker, as if it had been away until now."""
    if all:
        return work_off(farm)
    return turn(due) if (due := lease(now_ms())) else None


def outlooks(farm: str) -> Answer:
    return dict(OutlookRow.objects.filter(farm_id=farm).values_list("doe", "doc"))


COMMANDS = {made.__name__: made for made in (session, role, remove, come_back, let_in, known, work, outlooks)}
