"""Taking somebody, or a whole farm, out for good. What was recorded is kept without the name of who recorded it.

A backup made before still holds both until it is thinned out; a restore from one erases again what was erased since.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable

from allauth.usersessions.models import UserSession
from django.apps import apps
from django.contrib.sessions.models import Session
from django.db import models, transaction
from django.db.models.functions import Length

from herd.models import (
    Audit,
    Author,
    CalendarLink,
    Device,
    Erased,
    Farm,
    Invitation,
    Membership,
    Notice,
    NoticeChoice,
    Person,
)
from herd.models.erased import FARM, PERSON
from herd.models.farm import OWNER

from .audit import audit

GONE = "somebody who left"
# Their detail is an address and a browser.
WHERE_FROM = ("sign_in", "sign_in_failed", "wrong_passkey", "wrong_mail_code", "session_ended")

# Others add what of a farm lies outside the database (pictures): called after its rows are gone.
AFTER_FARM: list[Callable[[str], None]] = []


class NoOwnerLeft(ValueError):
    """The last owner of a farm that others are on cannot go: somebody else must own it first, or the farm be closed."""


@transaction.atomic
def erase_person(person: Person, by: Person | None = None, *, whatever: bool = False) -> None:
    """No name, no password, no session anywhere. Entries keep an id that leads to nobody.

    `whatever`: even where that leaves a farm without an owner, as a restore must.
    """
    farms = list(Farm.objects.filter(pk__in=Membership.everyone.filter(person=person).values("farm")))
    for farm in farms if not whatever else ():
        _leaves_an_owner(farm, person)
    _end_sessions(person)
    wrote = Audit.objects.filter(person=person.pk).values("farm_id")
    _scrub(person.name, Audit.objects.filter(models.Q(farm__in=farms) | models.Q(farm__in=wrote) | models.Q(farm=None)))
    _forget_from(Audit.objects.filter(person=person.pk))
    _forget_whom(person.pk, person.name, Invitation.objects.filter(farm__in=farms))
    Author.objects.filter(person=person.pk).delete()
    _mark(PERSON, "", person.pk)
    for farm in farms:
        _mark(PERSON, farm.pk, person.pk)
        audit(farm, by, "person_erased", person.pk)
    person.delete()


@transaction.atomic
def forget_on(farm: Farm, person: Person, by: Person | None = None, *, whatever: bool = False) -> None:
    """Take somebody's name off one farm; what they have elsewhere is not this farm's to take."""
    if not whatever:
        _leaves_an_owner(farm, person)
    Membership.everyone.filter(farm=farm, person=person).delete()
    Device.objects.filter(farm=farm, person=person).delete()
    CalendarLink.objects.filter(farm=farm, person=person).delete()
    NoticeChoice.objects.filter(farm=farm, person=person).delete()
    Notice.objects.filter(farm=farm, person=person).delete()
    Author.objects.filter(farm=farm, person=person.pk).delete()
    _scrub(person.name, Audit.objects.filter(farm=farm))
    _forget_from(Audit.objects.filter(farm=farm, person=person.pk))
    _forget_whom(person.pk, person.name, Invitation.objects.filter(farm=farm))
    _mark(PERSON, farm.pk, person.pk)
    audit(farm, by, "person_erased", person.pk)


@transaction.atomic
def forget_author(author: Author, by: Person | None = None) -> None:
    farm = author.farm
    _scrub(author.name, Audit.objects.filter(farm=farm))
    _forget_whom(author.person, author.name, Invitation.objects.filter(farm=farm))
    _mark(PERSON, farm.pk, author.person)
    author.delete()
    audit(farm, by, "person_erased", author.person)


def erase_farm(farm: Farm, by: Person | None = None) -> dict[str, int]:
    """Every row of the farm, in one transaction. Its members' phones are told, each when it next asks."""
    farm_id = farm.pk
    with transaction.atomic():
        Farm.objects.select_for_update().get(pk=farm_id)
        people = list(Membership.everyone.filter(farm=farm).values_list("person_id", flat=True))
        gone = {model._meta.model_name or "": _empty(model, farm_id) for model in _tables()}
        farm.delete()
        for person in ("", *people):
            _mark(FARM, farm_id, person)
        audit(None, by, "farm_erased", farm_id)
    for clean in AFTER_FARM:
        clean(farm_id)
    return {name: count for name, count in gone.items() if count}


def is_erased(farm_id: str, person_id: str) -> bool:
    """Whether this person is to be told that the farm was closed, or that they were taken off it."""
    return Erased.objects.filter(farm=farm_id, person=person_id).exists()


def _tables() -> Iterable[type[models.Model]]:
    """Whatever hangs on a farm, by its foreign key; nothing of it hangs on anything else of it."""
    for model in apps.get_models():
        if any(field.related_model is Farm for field in model._meta.concrete_fields):
            yield model


def _empty(model: type[models.Model], farm_id: str) -> int:
    key = next(field.name for field in model._meta.concrete_fields if field.related_model is Farm)
    return int(model._default_manager.filter(**{key: farm_id}).delete()[0])


def _leaves_an_owner(farm: Farm, person: Person) -> None:
    owners = set(Membership.objects.filter(farm=farm, role=OWNER).values_list("person_id", flat=True))
    if owners == {person.pk} and Membership.objects.filter(farm=farm).exclude(person=person).exists():
        raise NoOwnerLeft(farm.name)


def _mark(what: str, farm_id: str, person_id: str) -> None:
    Erased.objects.get_or_create(what=what, farm=farm_id, person=person_id)


def _end_sessions(person: Person) -> None:
    hers = UserSession.objects.filter(user=person)
    Session.objects.filter(pk__in=hers.values("session_key")).delete()


def _forget_from(rows: models.QuerySet[Audit]) -> None:
    rows.filter(what__in=WHERE_FROM).update(detail="")


def _forget_whom(person_id: str, name: str, rows: models.QuerySet[Invitation]) -> None:
    """Whom an owner wrote an invitation for, whatever she called her."""
    rows.filter(models.Q(used_by=person_id) | models.Q(whom__iexact=name)).update(whom="")


def _scrub(name: str, rows: models.QuerySet[Audit]) -> None:
    """The name out of what was written about it, whole words only: Ada is not in Adams."""
    word = re.compile(rf"(?<!\w){re.escape(name)}(?!\w)", re.IGNORECASE)
    for row in rows.annotate(n=Length("detail")).filter(n__gt=0, detail__icontains=name):
        Audit.objects.filter(pk=row.pk).update(detail=word.sub(GONE, row.detail)[:400])
