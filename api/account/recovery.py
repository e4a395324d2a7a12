from __future__ import annotations

from allauth.account.adapter import get_adapter
from django.core.exceptions import ValidationError
from rest_framework.request import Request
from rest_framework.response import Response

from herd.services.recovery import new_recovery_code, recover
from herd.services.seats import end_seats

from ..bodies import Body, Text
from ..errors import ApiError
from ..views import OpenView, OwnView
from . import doors
from .password import PasswordAgain, know_password

WRONG = (400, "wrong_code", "That name and code do not belong together.", "code")


class Recover(Body):
    name = Text(max_length=200)
    code = Text(max_length=60)
    password = Text(max_length=1024)

    def validate_password(self, typed: str) -> str:
        good_password(typed)
        return typed


class RecoveryView(OpenView):
    """A forgotten password, with the printed code. Nobody is signed in by it: that takes the new password."""

    takes = {"POST": Recover}
    throttle_classes = (doors.Recoveries,)

    def post(self, request: Request) -> Response:
        asked, plain = self.asked, request._request
        done = recover(asked["name"], asked["code"], asked["password"])
        if done is None:
            raise ApiError(*WRONG)
        person, code = done
        end_seats(person)
        doors.after_recovery(plain, asked["name"])
        return Response({"recovery_code": code})


class RecoveryCodeView(OwnView):
    """A new printed code, shown this once; the old one is good no more."""

    takes = {"POST": PasswordAgain}

    def post(self, request: Request) -> Response:
        person = self.person
        know_password(request._request, person, self.asked["password"])
        return Response({"recovery_code": new_recovery_code(person)})


def good_password(password: str) -> None:
    try:
        get_adapter().clean_password(password)
    except ValidationError as error:
        raise ApiError(400, "weak_password", " ".join(error.messages), "password") from error
