from __future__ import annotations

from typing import Any

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from herd.models import Membership
from herd.services.members import BadMember, remove, roll, set_role

from ..access import access, owner
from ..account.seats import must_have_proved
from ..bodies import Body, Text, checked
from ..errors import ApiError

STATUS = {"not_found": 404, "last_owner": 409}


class NewRole(Body):
    role = Text(max_length=10)


class MembersView(APIView):
    """Who is on the farm, and who was."""

    def get(self, request: Request, farm_id: str) -> Response:
        held = owner(request._request, farm_id)
        return Response({"members": [shown(member) for member in held.members]})


class MemberView(APIView):
    def patch(self, request: Request, farm_id: str, person: str) -> Response:
        held = owner(request._request, farm_id, proved=True)
        try:
            set_role(held.farm, person, checked(NewRole, request)["role"], held.person)
        except BadMember as error:
            raise refusal(error) from error
        return Response({"members": [shown(member) for member in roll(farm_id)]})

    def delete(self, request: Request, farm_id: str, person: str) -> Response:
        held = owner(request._request, farm_id, proved=True)
        try:
            remove(held.farm, person, held.person)
        except BadMember as error:
            raise refusal(error) from error
        return Response(status=204)


class LeaveView(APIView):
    """Everybody may leave; the last owner makes another one first."""

    def post(self, request: Request, farm_id: str) -> Response:
        held = access(request._request, farm_id)
        must_have_proved(request._request, held.person)
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
