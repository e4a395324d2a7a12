"""Who should still have a key after a restore: what was taken away since the backup stays away unless somebody says."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from allauth.account.models import EmailAddress
from allauth.mfa.models import Authenticator
from django.db import DatabaseError, models, transaction

from herd.models import Erased, Farm, Invitation, Membership, Person
from herd.models.erased import PERSON

from .audit import audit
from .backup_file import rows
from .erase import erase_farm, erase_person, forget_on
from .narrower import Held as Place
from .narrower import held_in, held_of, narrower

# What opens an account may be another by now because somebody else knew it.
OF_A_PERSON = ("password", "is_active", "email", "recovery", "pin", "second_step")
OWNED: tuple[type[models.Model], ...] = (EmailAddress, Authenticator)
OF_AN_INVITATION = ("used_by", "used_at", "revoked_at", "whom")


@dataclass(frozen=True, slots=True)
class Key:
    farm: str
    person: str
    place: Place
    farm_name: str = ""
    name: str = ""

    @property
    def role(self) -> str:
        return self.place.role


@dataclass(frozen=True, slots=True)
class Narrowed:
    """A place that does not come back as the backup has it."""

    key: Key
    today: Place
    kept: Place


@dataclass(slots=True)
class Held:
    """The keys of the database as it is before the restore. Empty where it cannot be read, or knows no farm."""

    farms: set[str] = field(default_factory=set)
    places: dict[tuple[str, str], Place] = field(default_factory=dict)
    # When and why somebody's place came to its end.
    gone: dict[tuple[str, str], dict[str, Any]] = field(default_factory=dict)
    people: dict[str, Person] = field(default_factory=dict)
    owned: list[Any] = field(default_factory=list)
    invitations: list[Invitation] = field(default_factory=list)
    erased: list[Erased] = field(default_factory=list)


@dataclass(slots=True)
class Found:
    """What the backup would give back and the present database does not have."""

    removed: list[Key] = field(default_factory=list)
    narrowed: list[Narrowed] = field(default_factory=list)
    newcomers: list[Key] = field(default_factory=list)
    compared: bool = False


def held_now() -> Held:
    try:
        with transaction.atomic():
            places = list(Membership.everyone.all())
            return Held(
                farms=set(Farm.objects.values_list("id", flat=True)),
                places={(one.farm_id, one.person_id): held_of(one) for one in places if one.gone_at is None},
                gone={
                    (one.farm_id, one.person_id): {"gone_at": one.gone_at, "gone_why": one.gone_why}
                    for one in places
                    if one.gone_at
                },
                people={one.pk: one for one in Person.objects.all()},
                owned=[row for model in OWNED for row in model._default_manager.all()],
                invitations=list(Invitation.objects.all()),
                erased=list(Erased.objects.all()),
            )
    except DatabaseError:
        return Held()


def compare(path: Path, now: Held) -> Found:
    """The keys in the backup beside those of today."""
    names: dict[str, str] = {}
    keys: list[Key] = []
    for table, row in rows(path):
        if table in ("person", "farm"):
            names[row["id"]] = row["name"]
        elif table == "membership" and not row.get("gone_at"):
            farm, person = row["farm_id"], row["person_id"]
            keys.append(Key(farm, person, held_in(row), names.get(farm, ""), names.get(person, "")))
    found = Found(compared=bool(now.farms & {key.farm for key in keys}))
    for key in keys:
        today = now.places.get((key.farm, key.person))
        if key.farm in now.farms and today is None:
            found.removed.append(key)
        elif today and (kept := narrower(today, key.place)) != key.place:
            found.narrowed.append(Narrowed(key, today, kept))
    then = {(key.farm, key.person) for key in keys}
    found.newcomers = [
        Key(*pair, place, name=now.people[pair[1]].name) for pair, place in now.places.items() if pair not in then
    ]
    return found


def keep_away(found: Found, let_back: Collection[str], now: Held) -> None:
    """After the rows are back, in the same transaction: keys as they are today, except for whom somebody let back."""
    back = {name.casefold() for name in let_back}
    for key in found.removed:
        if key.name.casefold() not in back:
            place = Membership.objects.filter(farm_id=key.farm, person_id=key.person)
            ended = now.gone.get((key.farm, key.person))
            if ended:
                place.update(**ended)
            else:
                place.delete()
            audit(Farm.objects.get(pk=key.farm), None, "kept_removed", f"{key.person} {key.role}")
    for one in found.narrowed:
        if one.key.name.casefold() not in back:
            Membership.objects.filter(farm_id=one.key.farm, person_id=one.key.person).update(**one.kept.parts())
    _erase_again(now.erased)
    _secrets_of_today(now)


def _secrets_of_today(now: Held) -> None:
    known = set(Person.objects.filter(pk__in=now.people).values_list("pk", flat=True))
    for pk in known:
        Person.objects.filter(pk=pk).update(**{name: getattr(now.people[pk], name) for name in OF_A_PERSON})
    for model in OWNED:
        model._default_manager.filter(user__in=known).delete()
    for row in now.owned:
        if row.user_id in known:
            row.pk = None
            row.save(force_insert=True)
    for one in now.invitations:
        Invitation.objects.filter(pk=one.pk).update(**{name: getattr(one, name) for name in OF_AN_INVITATION})


def _erase_again(erased: Iterable[Erased]) -> None:
    for one in erased:
        person = Person.objects.filter(pk=one.person).first() if one.what == PERSON else None
        farm = Farm.objects.filter(pk=one.farm).first()
        if one.what == PERSON and person and not one.farm:
            erase_person(person, whatever=True)
        elif one.what == PERSON and person and farm:
            forget_on(farm, person, whatever=True)
        elif one.what != PERSON and farm:
            erase_farm(farm)
    fresh = [Erased(what=one.what, farm=one.farm, person=one.person, at=one.at) for one in erased]
    Erased.objects.bulk_create(fresh, ignore_conflicts=True)
