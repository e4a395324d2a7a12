"""Who may see a farm. A stranger gets the same answer as for a farm that does not exist."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import HttpRequest

from herd.models import Farm, Membership, Person
from herd.state.checks import PATTERNS

from .errors import NOT_FOUND, SIGN_IN, ApiError


@dataclass(frozen=True, slots=True)
class Access:
    person: Person
    farm: Farm
    role: str
    members: list[Membership]


def signed_in(request: HttpRequest) -> Person:
    if not isinstance(request.user, Person):
        raise ApiError(*SIGN_IN)
    return request.user


def access(request: HttpRequest, farm_id: str) -> Access:
    """The farm as a member sees it, its people included, in one query."""
    person = signed_in(request)
    if not PATTERNS["id"].fullmatch(farm_id):
        raise ApiError(*NOT_FOUND)
    members = list(Membership.objects.filter(farm_id=farm_id).select_related("farm", "person").order_by("id"))
    own = next((member for member in members if member.person_id == person.pk), None)
    if own is None:
        raise ApiError(*NOT_FOUND)
    return Access(person, own.farm, own.role, members)
