"""Who should still have a key after a restore: what was taken away since the backup stays away unless somebody says."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from pathlib import Path

from django.db import DatabaseError, transaction

from herd.models import Erased, Farm, Membership, Person
from herd.models.erased import PERSON
from herd.models.farm import ADVISER, FAMILY, HELPER, OWNER

from .audit import audit
from .backup_file import rows
from .erase import erase_farm, erase_person, forget_on

WEIGHT = {OWNER: 3, FAMILY: 2, HELPER: 1, ADVISER: 0}


@dataclass(frozen=True, slots=True)
class Key:
    farm: str
    person: str
    role: str
    farm_name: str = ""
    name: str = ""


@dataclass(slots=True)
class Doors:
    """The database as it is before the restore. Empty where it cannot be read, or knows none of the farms."""

    farms: set[str] = field(default_factory=set)
    roles: dict[tuple[str, str], str] = field(default_factory=dict)
    # Password hash, may sign in, name.
    people: dict[str, tuple[str, bool, str]] = field(default_factory=dict)
    erased: list[Erased] = field(default_factory=list)


@dataclass(slots=True)
class Found:
    """What the backup would give back and the present database does not have."""

    removed: list[Key] = field(default_factory=list)
    lowered: list[tuple[Key, str]] = field(default_factory=list)
    newcomers: list[Key] = field(default_factory=list)
    compared: bool = False


def doors() -> Doors:
    try:
        with transaction.atomic():
            return Doors(
                set(Farm.objects.values_list("id", flat=True)),
                {(one.farm_id, one.person_id): one.role for one in Membership.objects.all()},
                {one.pk: (one.password, one.is_active, one.name) for one in Person.objects.all()},
                list(Erased.objects.all()),
            )
    except DatabaseError:
        return Doors()


def compare(path: Path, now: Doors) -> Found:
    """The keys in the backup beside those of today."""
    names: dict[str, str] = {}
    keys: list[Key] = []
    for table, row in rows(path):
        if table in ("person", "farm"):
            names[row["id"]] = row["name"]
        elif table == "membership":
            farm, person = row["farm_id"], row["person_id"]
            keys.append(Key(farm, person, row["role"], names.get(farm, ""), names.get(person, "")))
    found = Found(compared=bool(now.farms & {key.farm for key in keys}))
    for key in keys:
        role = now.roles.get((key.farm, key.person))
        if key.farm in now.farms and role is None:
            found.removed.append(key)
        elif role and WEIGHT[role] < WEIGHT[key.role]:
            found.lowered.append((key, role))
    then = {(key.farm, key.person) for key in keys}
    found.newcomers = [
        Key(*pair, role, name=now.people[pair[1]][2]) for pair, role in now.roles.items() if pair not in then
    ]
    return found


def keep_away(found: Found, let_back: Collection[str], now: Doors) -> None:
    """After the rows are back, in the same transaction: keys as they are today, except for whom somebody let back."""
    back = {name.casefold() for name in let_back}
    for key in found.removed:
        if key.name.casefold() not in back:
            Membership.objects.filter(farm_id=key.farm, person_id=key.person).delete()
            audit(Farm.objects.get(pk=key.farm), None, "kept_removed", f"{key.person} {key.role}")
    for key, role in found.lowered:
        if key.name.casefold() not in back:
            Membership.objects.filter(farm_id=key.farm, person_id=key.person).update(role=role)
    for pk, (password, active, _) in now.people.items():
        # The password of then may be the one that was changed because somebody else knew it.
        Person.objects.filter(pk=pk).update(password=password, is_active=active)
    _erase_again(now.erased)


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
