from __future__ import annotations

from allauth.account.adapter import get_adapter
from django.core.exceptions import ValidationError
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from herd.services.recovery import new_recovery_code, recover
from herd.services.seats import end_seats

from ..access import signed_in
from ..bodies import Body, Text, checked
from ..errors import ApiError
from ..open_view import OpenView
from . import doors
from .password import PasswordAgain, know_password

WRONG = (400, "wrong_code", "That name and code do not belong together.", "code")


class Recover(Body):
    name = Text(max_length=200)
    code = Text(max_length=60)
    password = Text(max_length=1024)


class RecoveryView(OpenView):
    """A forgotten password, with the printed code. Nobody is signed in by it: that takes the new password."""

    def post(self, request: Request) -> Response:
        asked, plain = checked(Recover, request), request._request
        good_password(asked["password"])
        doors.before_recovery(plain, asked["name"])
        done = recover(asked["name"], asked["code"], asked["password"])
        if done is None:
            raise ApiError(*WRONG)
        person, code = done
        end_seats(person)
        doors.after_recovery(plain, asked["name"])
        return Response({"recovery_code": code})


class RecoveryCodeView(APIView):
    """A new printed code, shown this once; the old one is good no more."""

    def post(self, request: Request) -> Response:
        person = signed_in(request._request)
        know_password(request._request, person, checked(PasswordAgain, request)["password"])
        return Response({"recovery_code": new_recovery_code(person)})


def good_password(password: str) -> None:
    try:
        get_adapter().clean_password(password)
    except ValidationError as error:
        raise ApiError(400, "weak_password", " ".join(error.messages), "password") from error
