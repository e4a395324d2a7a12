"""The password once more, where somebody signed in does what her seat alone must not."""

from __future__ import annotations

from django.http import HttpRequest

from herd.models import Farm, Person
from herd.services.audit import audit

from ..bodies import Body, Text
from ..errors import ApiError
from . import doors

WRONG = (400, "wrong_password", "That is not your password.", "password")


class PasswordAgain(Body):
    password = Text(max_length=1024)


def know_password(request: HttpRequest, person: Person, password: str, farm: Farm | None = None) -> None:
    """Counted like a sign-in, for it can be guessed at like one. `farm`: what is asked for concerns that one alone."""
    doors.before_sign_in(request, person.name)
    if not person.check_password(password):
        audit(farm, person, "wrong_password", request.path.rsplit("/", 1)[-1])
        raise ApiError(*WRONG)
    doors.after_sign_in(request, person.name)
