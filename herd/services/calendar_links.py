"""A link by which somebody's own calendar reads the farm's year: one for each who is on a farm, until she takes it
back."""

from __future__ import annotations

import secrets

from django.db import transaction

from herd.models import CalendarLink, Farm, Membership, Person
from herd.models.farm import FAMILY, OWNER

from .audit import audit
from .calendar_words import LANGUAGES
from .limits import DAY_S, Limit, hit
from .members import memberships, not_yet
from .wire import digest

SECRET_BYTES = 24
A_DAY = Limit("calendar_links", 20, DAY_S)
MAY = (OWNER, FAMILY)


class NoLink(LookupError):
    """Taken back, over with her place on the farm, or never there: whoever asks is not told which."""


def link_of(farm: Farm, person: Person) -> CalendarLink | None:
    return CalendarLink.objects.filter(farm=farm, person=person).first()


def make_link(farm: Farm, person: Person, language: str) -> tuple[CalendarLink, str]:
    """The row, and the secret that is in no table. An older link of hers ends with it."""
    hit(A_DAY, f"{farm.pk} {person.pk}")
    secret = secrets.token_urlsafe(SECRET_BYTES)
    said = {"secret_sha256": digest(secret), "language": language if language in LANGUAGES else LANGUAGES[0]}
    with transaction.atomic():
        CalendarLink.objects.filter(farm=farm, person=person).delete()
        made = CalendarLink.objects.create(farm=farm, person=person, **said)
        audit(farm, person, "calendar_link_made")
    return made, secret


def revoke_link(farm: Farm, person: Person) -> None:
    """From then on its address leads nowhere. Where there is none, there is none."""
    with transaction.atomic():
        if CalendarLink.objects.filter(farm=farm, person=person).delete()[0]:
            audit(farm, person, "calendar_link_revoked")


def find_link(secret: str) -> CalendarLink:
    """Who is on the farm no more, or looks after it as a helper now, reads nothing of it by an old address."""
    row = CalendarLink.objects.filter(secret_sha256=digest(secret)).select_related("farm", "person").first()
    if row is None or not any(_stands(row, member) for member in memberships(row.person)):
        raise NoLink
    return row


def _stands(row: CalendarLink, member: Membership) -> bool:
    return member.farm_id == row.farm_id and member.role in MAY and not not_yet(member)
