from __future__ import annotations

from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from django.db import transaction

from herd.models import Audit, Farm, Membership, Person
from herd.models.farm import OWNER, ROLES


class BadFarm(ValueError):
    """A name or a zone no farm can have: `field` says which."""

    def __init__(self, field: str, why: str) -> None:
        super().__init__(why)
        self.field = field


def make_farm(name: str, zone: str, owner: Person) -> Farm:
    """A new, empty farm. Its first outlooks are made when somebody first asks for changes."""
    name = " ".join(name.split())
    if not 1 <= len(name) <= 60:
        raise BadFarm("name", "Give the farm a name of at most 60 letters.")
    if not _is_zone(zone):
        raise BadFarm("zone", "That time zone is not known: choose one such as Europe/Vienna.")
    with transaction.atomic():
        farm = Farm.objects.create(name=name, zone=zone)
        Audit.objects.create(farm=farm, person=owner.pk, what="farm_made", detail=name)
        add_member(farm, owner, OWNER, by=owner)
    return farm


def add_member(farm: Farm, person: Person, role: str, by: Person) -> Membership:
    if role not in dict(ROLES):
        raise ValueError(f"unknown role {role}")
    with transaction.atomic():
        member, _ = Membership.objects.update_or_create(farm=farm, person=person, defaults={"role": role})
        Audit.objects.create(farm=farm, person=by.pk, what="member_set", detail=f"{person.pk} {role}")
    return member


def _is_zone(zone: str) -> bool:
    try:
        ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return False
    return True
