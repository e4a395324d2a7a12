from __future__ import annotations

from typing import Any

import segno
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from herd.models import Invitation
from herd.services import invitations as offers
from herd.services.invitations import BadInvitation, NoInvitation, Place
from herd.services.names import BadName

from ..access import signed_in
from ..account import doors
from ..account.sign_up import SignUp, sign_up
from ..bodies import Body, Text
from ..errors import NOT_FOUND, ApiError
from ..permissions import Owner, Proved
from ..session import described
from ..views import FarmView, OpenView

GONE = (404, "no_invitation", "That invitation is not good any more: ask for another one.", "invitation")


class NewInvitation(Body):
    role = Text(max_length=10)
    whom = Text(max_length=100, required=False, allow_blank=True, default="")
    starts_on = serializers.DateField(required=False, allow_null=True, default=None)
    ends_on = serializers.DateField(required=False, allow_null=True, default=None)
    does = serializers.ListField(child=Text(max_length=36), required=False, default=list)
    pack = Text(max_length=36, required=False, allow_blank=True, default="")


class Secret(Body):
    token = Text(max_length=60, required=False, allow_blank=True, default="")
    code = Text(max_length=20, required=False, allow_blank=True, default="")


class Acceptance(Secret):
    sign_up = SignUp(required=False)


class InvitationsView(FarmView):
    """An owner's open invitations; a new one is answered with its link and picture, which are not shown again."""

    permission_classes = (Owner, Proved)
    takes = {"POST": NewInvitation}

    def get(self, request: Request, farm_id: str) -> Response:
        return Response({"invitations": [shown(row) for row in offers.pending(self.held.farm)]})

    def post(self, request: Request, farm_id: str) -> Response:
        try:
            made, token = offers.invite(self.held.farm, Place(**self.asked), self.held.person)
        except BadInvitation as error:
            raise ApiError(400, "bad_field", str(error), error.field) from error
        except BadName as error:
            raise ApiError(400, "bad_field", str(error), "whom") from error
        url = offers.link(request._request.build_absolute_uri("/"), token)
        code = offers.new_code(made)
        return Response({**shown(made), "link": url, "qr": drawn(url), "code": code}, status=201)


class InvitationView(FarmView):
    permission_classes = (Owner,)

    def delete(self, request: Request, farm_id: str, invitation: str) -> Response:
        try:
            offers.revoke(self.held.farm, invitation, self.held.person)
        except NoInvitation as error:
            raise ApiError(*NOT_FOUND) from error
        return Response(status=204)


class CodeView(FarmView):
    """Another ten minutes, under another code."""

    permission_classes = (Owner, Proved)

    def post(self, request: Request, farm_id: str, invitation: str) -> Response:
        row = offers.open_ones().filter(farm=self.held.farm, pk=invitation).first()
        if row is None:
            raise ApiError(*NOT_FOUND)
        code = offers.new_code(row)
        return Response({**shown(row), "code": code})


class LookView(OpenView):
    """What an invitation is to, before somebody takes it or makes an account for it."""

    takes = {"POST": Secret}
    throttle_classes = (doors.Codes,)

    def post(self, request: Request) -> Response:
        row = found(request, self.asked)
        return Response({**shown(row), "farm": row.farm.name})


class AcceptView(OpenView):
    """Whoever is on takes the place; with `sign_up`, a new person does."""

    takes = {"POST": Acceptance}
    throttle_classes = (doors.Codes, doors.SignUpsAsWell)

    def post(self, request: Request) -> Response:
        asked = self.asked
        row = found(request, asked)
        made = {}
        if "sign_up" in asked:
            made = {"recovery_code": sign_up(request, asked["sign_up"])}
        try:
            member = offers.accept(row, signed_in(request._request))
        except NoInvitation as error:
            raise ApiError(*GONE) from error
        except BadInvitation as error:
            raise ApiError(409, "on_it_already", str(error), error.field) from error
        return Response({**described(request), "farm": member.farm_id, **made}, status=201)


def found(request: Request, asked: dict[str, Any]) -> Invitation:
    """A token cannot be guessed and was not counted; a code can."""
    token, code = asked["token"], asked["code"]
    if not token and not code:
        raise ApiError(400, "bad_field", "Type the code of the invitation.", "code")
    try:
        row = offers.find(token, code)
    except NoInvitation as error:
        raise ApiError(*GONE) from error
    if not token:
        doors.after_code(request)
    return row


def shown(row: Invitation) -> dict[str, Any]:
    return {
        "id": row.pk,
        "role": row.role,
        "whom": row.whom,
        "made_by": row.made_by.name if row.made_by else "",
        "made": int(row.made_at.timestamp() * 1000),
        "until": int(row.until_at.timestamp() * 1000),
        "code_until": int(row.code_until_at.timestamp() * 1000) if row.code_until_at else None,
        "starts_on": row.starts_on.isoformat() if row.starts_on else "",
        "ends_on": row.ends_on.isoformat() if row.ends_on else "",
        "does": row.does,
        "pack": row.pack,
    }


def drawn(url: str) -> str:
    """A picture of modules alone, with attributes and no style: the page allows none."""
    made = segno.make(url, error="m", micro=False)
    return str(made.svg_inline(border=4, light="#fff", omitsize=True, svgclass=None, lineclass=None))
