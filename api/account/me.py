"""What a person sets about herself."""

from __future__ import annotations

from typing import Any

from allauth.mfa.models import Authenticator
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from herd.models import Seat
from herd.services.audit import audit
from herd.services.pins import BadPin, set_pin

from ..bodies import Text
from ..errors import NOT_FOUND, ApiError
from ..permissions import Proved, SignedIn
from ..views import OwnView
from .ending import end_seat
from .password import PasswordAgain, know_password
from .seats import browser_of

NO_KEY = (409, "no_passkey", "Add a passkey first.", "on")
HERE = (409, "here", "That is this phone: sign out instead.", "seat")


class Pin(PasswordAgain):
    pin = Text(max_length=10, allow_blank=True)


class Step(PasswordAgain):
    on = serializers.BooleanField()


class PinView(OwnView):
    """The PIN of a shared phone; blank takes it away."""

    takes = {"PUT": Pin}

    def put(self, request: Request) -> Response:
        person, asked = self.person, self.asked
        know_password(request._request, person, asked["password"])
        try:
            set_pin(person, asked["pin"])
        except BadPin as error:
            raise ApiError(400, "bad_field", str(error), "pin") from error
        Seat.objects.filter(person=person).update(wrong_pins=0)
        audit(None, person, "pin_changed")
        return Response({"pin": bool(person.pin)})


class SecondStepView(OwnView):
    """Whether her passkey is asked for after her password as well."""

    takes = {"PUT": Step}

    def put(self, request: Request) -> Response:
        person, asked = self.person, self.asked
        know_password(request._request, person, asked["password"])
        keys = Authenticator.objects.filter(user=person, type=Authenticator.Type.WEBAUTHN)
        if asked["on"] and not keys.exists():
            raise ApiError(*NO_KEY)
        person.second_step = asked["on"]
        person.save(update_fields=["second_step"])
        audit(None, person, "second_step_on" if asked["on"] else "second_step_off")
        return Response({"second_step": person.second_step})


class SeatsView(OwnView):
    """The browsers where she has a seat, the one she asks from marked."""

    def get(self, request: Request) -> Response:
        person, here = self.person, browser_of(request._request)
        rows = Seat.objects.filter(person=person).order_by("-used_at")
        return Response({"seats": [_seat(row, here) for row in rows]})


class SeatView(OwnView):
    permission_classes = (SignedIn, Proved)

    def delete(self, request: Request, seat: int) -> Response:
        person = self.person
        row = Seat.objects.filter(person=person, pk=seat).first()
        if row is None:
            raise ApiError(*NOT_FOUND)
        if row.browser == browser_of(request._request):
            raise ApiError(*HERE)
        end_seat(person, row)
        return Response(status=204)


def _seat(row: Seat, here: str) -> dict[str, Any]:
    at = {"since": int(row.made_at.timestamp() * 1000), "used": int(row.used_at.timestamp() * 1000)}
    return {"id": row.pk, "agent": row.agent, **at, "here": row.browser == here}
