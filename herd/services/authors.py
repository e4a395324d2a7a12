"""Whose entries a batch may hold: its sender's own, and those of others whose place on the same browser is open."""

from __future__ import annotations

from herd.models import Membership
from herd.models.farm import ADVISER
from herd.state.order import Event
from herd.state.payloads import Problem

from .roles import READ_ONLY

NOT_MEMBER = Problem("not_member", "author", "Whoever recorded this is not on this farm: ask the owner to invite them.")
REMOVED = Problem("removed", "author", "Whoever recorded this has left the farm since: its owner sees it and decides.")
CARRIED = Problem("carried", "author", "Brought from another phone: an owner of the farm lets it in, or not.")
NOT_SEATED = Problem("not_seated", "author", "Whoever recorded this must be on at this phone, signed in, to send it.")


class Authors:
    """`seats`: who has an open place on the sender's browser. What a phone says of itself is no proof."""

    def __init__(
        self,
        farm_id: str,
        own: str,
        role: str,
        seats: frozenset[str],
        authors: set[str],
        *,
        gone: bool = False,
        carried: bool = False,
    ) -> None:
        self.own, self.seats, self.carried = own, seats, carried
        self.roles = {own: role}
        self.gone = {own} if gone else set()
        if others := authors - {own}:
            members = Membership.everyone.filter(farm_id=farm_id, person_id__in=others)
            self.roles |= dict(members.values_list("person_id", "role"))
            self.gone |= set(members.exclude(gone_at=None).values_list("person_id", flat=True))

    def problem(self, event: Event) -> Problem | None:
        author = event["author"]
        if author not in self.roles:
            return NOT_MEMBER
        if author != self.own and author not in self.seats:
            return CARRIED if self.carried else NOT_SEATED
        return REMOVED if author in self.gone else None

    def keeps(self, event: Event) -> bool:
        """Nothing an adviser sends or recorded is kept, and nothing she carries for somebody else."""
        author = event.get("author")
        return ADVISER not in (self.roles[self.own], self.roles.get(author) if isinstance(author, str) else None)

    def may_write(self, event: Event) -> Problem | None:
        return READ_ONLY if self.roles[event["author"]] == ADVISER else None
