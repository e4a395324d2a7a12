"""Who may see a farm. A stranger gets the same answer as for a farm that does not exist."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import HttpRequest

from herd.models import Farm, Membership, Person
from herd.models.farm import ADVISER
from herd.services import roles
from herd.services.adviser_view import AdviserView, people_for_adviser
from herd.services.erase import is_erased
from herd.services.members import authors_of, names_of, not_yet, roll
from herd.services.wire import canonical, digest
from herd.state.checks import PATTERNS

from .errors import NOT_FOUND, SIGN_IN, ApiError

REMOVED = (403, "removed", "You are no longer on this farm. What you recorded and did not send goes to its owner.")
FARM_CLOSED = (403, "removed", "This farm was closed, or you are no longer on it: nothing more is kept for it here.")
READ_ONLY = (403, roles.READ_ONLY.code, roles.READ_ONLY.why)


@dataclass(frozen=True, slots=True)
class Access:
    person: Person
    farm: Farm
    role: str
    # Those who are gone included: what they recorded stands.
    members: list[Membership]
    own: Membership

    @property
    def gone(self) -> bool:
        return self.own.gone_at is not None

    @property
    def only(self) -> AdviserView | None:
        """What an adviser's eyes are held to; None for everybody else."""
        return AdviserView(self.farm.pk, self.own.does) if self.role == ADVISER else None

    @property
    def scope(self) -> str:
        """A phone that was sent another part of the farm before starts again with this one."""
        return digest(canonical(sorted(self.own.does)))[:12] if self.role == ADVISER else ""

    def people(self) -> list[dict[str, object]]:
        if self.role == ADVISER:
            return names_of(people_for_adviser(self.members, self.person.pk))
        here = {member.person_id for member in self.members}
        return [*names_of(self.members), *(one for one in authors_of(self.farm) if one["id"] not in here)]


def signed_in(request: HttpRequest) -> Person:
    if not isinstance(request.user, Person):
        raise ApiError(*SIGN_IN)
    return request.user


def access(request: HttpRequest, farm_id: str, *, gone_too: bool = False) -> Access:
    """The farm as a member sees it, its people included, in one query. `gone_too`: who was a member may come in."""
    person = signed_in(request)
    if not PATTERNS["id"].fullmatch(farm_id):
        raise ApiError(*NOT_FOUND)
    members = roll(farm_id)
    own = next((member for member in members if member.person_id == person.pk), None)
    if own is None:
        raise ApiError(*(FARM_CLOSED if is_erased(farm_id, person.pk) else NOT_FOUND))
    if own.gone_at and not gone_too:
        raise ApiError(*REMOVED)
    if not own.gone_at and not_yet(own):
        day = own.starts_on.isoformat() if own.starts_on else ""
        raise ApiError(403, "not_yet", f"Your time on this farm begins on {day}.", "starts_on", starts_on=day)
    return Access(person, own.farm, own.role, members, own)
