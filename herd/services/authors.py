"""Whose entries a phone may carry: its own person's, and those of members who used this phone before."""

from __future__ import annotations

from herd.models import Device, Membership
from herd.models.farm import ADVISER
from herd.state.order import Event
from herd.state.payloads import Problem

NOT_MEMBER = Problem("not_member", "author", "Whoever recorded this is not on this farm: ask the owner to invite them.")
NOT_BOUND = Problem("not_allowed", "author", "Whoever recorded this must sign in on this phone once to send it.")


class Authors:
    def __init__(self, farm_id: str, person_id: str, role: str, device: str, authors: set[str]) -> None:
        self.own, self.device = person_id, device
        others = authors - {person_id}
        self.roles = {person_id: role}
        self.bound: set[str] = set()
        if others:
            members = Membership.objects.filter(farm_id=farm_id, person_id__in=others).exclude(role=ADVISER)
            self.roles |= dict(members.values_list("person_id", "role"))
            bound = Device.objects.filter(farm_id=farm_id, device=device, person_id__in=others)
            self.bound = set(bound.values_list("person_id", flat=True))

    def problem(self, event: Event) -> Problem | None:
        author = event["author"]
        if author == self.own:
            return None
        if author not in self.roles:
            return NOT_MEMBER
        return None if author in self.bound and event["device"] == self.device else NOT_BOUND
