from __future__ import annotations

from typing import Any

from django.db import transaction
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from herd.models import Membership
from herd.services.members import DAYS, BadMember, give_pack, remove, roll, set_days, set_role

from ..bodies import Body, Text
from ..errors import ApiError
from ..permissions import Member, Owner, Proved
from ..views import FarmView

NOTHING = (400, "bad_field", "Say which role, which days or which pack.", "role")
STATUS = {"not_found": 404, "last_owner": 409}


class MemberChange(Body):
    """Another role, another first or last day, or the pack a helper goes by; null and "" take a day or a pack away."""

    role = Text(max_length=10, required=False)
    starts_on = serializers.DateField(required=False, allow_null=True)
    ends_on = serializers.DateField(required=False, allow_null=True)
    pack = Text(max_length=36, required=False, allow_blank=True)


class MembersView(FarmView):
    """Who is on the farm, and who was."""

    permission_classes = (Owner,)

    def get(self, request: Request, farm_id: str) -> Response:
        return Response({"members": [shown(member) for member in self.held.members]})


class MemberView(FarmView):
    permission_classes = (Owner, Proved)
    takes = {"PATCH": MemberChange}

    def patch(self, request: Request, farm_id: str, person: str) -> Response:
        held, asked = self.held, self.asked
        if not asked:
            raise ApiError(*NOTHING)
        try:
            with transaction.atomic():
                if "role" in asked:
                    set_role(held.farm, person, asked["role"], held.person)
                if days := {name: asked[name] for name in DAYS if name in asked}:
                    set_days(held.farm, person, days, held.person)
                if "pack" in asked:
                    give_pack(held.farm, person, asked["pack"], held.person)
        except BadMember as error:
            raise refusal(error) from error
        return Response({"members": [shown(member) for member in roll(farm_id)]})

    def delete(self, request: Request, farm_id: str, person: str) -> Response:
        try:
            remove(self.held.farm, person, self.held.person)
        except BadMember as error:
            raise refusal(error) from error
        return Response(status=204)


class LeaveView(FarmView):
    """Everybody may leave; the last owner makes another one first."""

    permission_classes = (Member, Proved)

    def post(self, request: Request, farm_id: str) -> Response:
        held = self.held
        try:
            remove(held.farm, held.person.pk, held.person)
        except BadMember as error:
            raise refusal(error) from error
        return Response(status=204)


def refusal(error: BadMember) -> ApiError:
    return ApiError(STATUS.get(error.code, 400), error.code, str(error), error.where)


def shown(member: Membership) -> dict[str, Any]:
    return {
        "person": member.person_id,
        "name": member.person.name,
        "role": member.role,
        "since": int(member.since_at.timestamp() * 1000),
        "starts_on": member.starts_on.isoformat() if member.starts_on else "",
        "ends_on": member.ends_on.isoformat() if member.ends_on else "",
        "does": member.does,
        "pack": member.pack,
        "gone": int(member.gone_at.timestamp() * 1000) if member.gone_at else None,
        "gone_why": member.gone_why,
    }
