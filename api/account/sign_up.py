"""A new person, by allauth's own path, and the printed code she needs if she ever forgets her password."""

from __future__ import annotations

from typing import Any

from allauth.account.internal.flows.signup import complete_signup
from allauth.headless.account.inputs import SignupInput
from django.db import transaction
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.response import Response

from herd.models import Person
from herd.services.recovery import new_recovery_code

from ..bodies import Body, Text
from ..errors import ApiError
from ..permissions import SignUpIsOpen
from ..session import described
from ..views import OpenView
from . import doors
from .answers import WHERE


class SignUp(Body):
    name = Text(max_length=200)
    password = Text(max_length=1024)
    email = Text(max_length=254, required=False, allow_blank=True, default="")


class SignUpView(OpenView):
    permission_classes = (AllowAny, SignUpIsOpen)
    takes = {"POST": SignUp}
    throttle_classes = (doors.SignUps,)

    def post(self, request: Request) -> Response:
        code = sign_up(request, self.asked)
        return Response({**described(request), "recovery_code": code}, status=201)


def sign_up(request: Request, asked: dict[str, Any]) -> str:
    """The new person is on in this browser afterwards; others who share it keep their seats."""
    plain = request._request
    form = SignupInput(data={"username": asked["name"], "password": asked["password"], "email": asked["email"]})
    if not form.is_valid():
        field, found = next(iter(form.errors.as_data().items()))
        raise ApiError(400, str(found[0].code or "bad_field"), " ".join(found[0].messages), WHERE.get(field, field))
    with transaction.atomic():
        person, refused = form.try_save(plain)
        if refused or not isinstance(person, Person):
            raise ApiError(400, "email_taken", "Somebody signs in with that address already.", "email")
        code = new_recovery_code(person)
    complete_signup(plain, user=person)
    request.user = plain.user
    return code
