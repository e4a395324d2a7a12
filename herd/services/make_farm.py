from __future__ import annotations

from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from django.db import transaction

from herd.models import Farm, Membership, Person
from herd.models.farm import OWNER, ROLES

from .audit import audit
from .names import BadName, plain_name


class BadFarm(ValueError):
    """A name or a zone no farm can have: `field` says which."""

    def __init__(self, field: str, why: str) -> None:
        super().__init__(why)
        self.field = field


def make_farm(name: str, zone: str, owner: Person) -> Farm:
    """A new, empty farm. Its first outlooks are made when somebody first asks for changes."""
    try:
        name = plain_name(name, "name of the farm")
    except BadName as error:
        raise BadFarm("name", str(error)) from error
    if not _is_zone(zone):
        raise BadFarm("zone", "That time zone is not known: choose one such as Europe/Vienna.")
    with transaction.atomic():
        farm = Farm.objects.create(name=name, zone=zone)
        audit(farm, owner, "farm_made", name)
        add_member(farm, owner, OWNER, by=owner)
    return farm


def add_member(farm: Farm, person: Person, role: str, by: Person) -> Membership:
    if role not in dict(ROLES):
        raise ValueError(f"unknown role {role}")
    with transaction.atomic():
        here = {"role": role, "gone_at": None, "gone_why": ""}
        member, _ = Membership.everyone.update_or_create(farm=farm, person=person, defaults=here)
        audit(farm, by, "member_set", f"{person.pk} {role}")
    return member


def _is_zone(zone: str) -> bool:
    try:
        ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return False
    return True
