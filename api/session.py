from __future__ import annotations

from typing import Any

from allauth.account.adapter import get_adapter
from allauth.account.internal.flows.login import derive_login_method, perform_password_login
from allauth.account.models import Login
from django.conf import settings
from django.contrib.auth import login
from django.middleware.csrf import get_token
from rest_framework.request import Request
from rest_framework.response import Response

from herd.models import Membership, Person, Seat
from herd.services.audit import audit
from herd.services.members import memberships
from herd.services.names import as_typed
from herd.services.pins import is_pin
from herd.services.seats import is_locked, use_seat, wrong_pin
from herd.services.versions import versions

from .account import seats
from .bodies import Body, Text
from .errors import ApiError
from .views import OpenView

WRONG = (400, "wrong_password", "That name and password do not belong together.", "password")
NOT_HERE = (404, "not_here", "Whoever that is has not signed in on this phone, or has signed out again.", "person")
SECOND_STEP = (401, "second_step", "Now use your passkey.")
PIN_NEEDED = (403, "pin_needed", "Enter your PIN.", "pin")
LOCKED = (403, "password_needed", "Enter your password: only that opens your place on this phone now.", "password")
BACKEND = "allauth.account.auth_backends.AuthenticationBackend"


class SignIn(Body):
    name = Text(max_length=200)
    password = Text(max_length=1024)


class TakeOver(Body):
    person = Text(max_length=40)
    pin = Text(max_length=10, required=False, allow_blank=True, default="")


class SessionView(OpenView):
    """Who is signed in on this phone. Signing in here never touches what the phone has recorded."""

    # A wrong password is counted in allauth's adapter, as at its own doors, a wrong PIN with the seat.
    takes = {"POST": SignIn, "PUT": TakeOver}

    def get(self, request: Request) -> Response:
        return Response(described(request))

    def post(self, request: Request) -> Response:
        sign_in(request, self.asked["name"], self.asked["password"])
        return Response(described(request))

    def put(self, request: Request) -> Response:
        """Somebody who has signed in on this browser, and not out again, is on now: no password in the barn."""
        asked = self.asked
        person = Person.objects.filter(pk=asked["person"], is_active=True).first()
        if person is None or not seats.has_seat(request._request, person):
            raise ApiError(*NOT_HERE)
        if request.user != person:
            seat = seats.rows(request._request).get(person.pk)
            _let_pass(person, seat, asked["pin"])
            if seat:
                use_seat(seat)
            plain = request._request
            seats.sit_down(plain, person, lambda: login(plain, person, backend=BACKEND), proven=False)
            request.user = person
        return Response(described(request))

    def delete(self, request: Request) -> Response:
        """Signs out one person; the others who share the browser keep their seats, and nobody is on."""
        own = str(request.user.pk) if isinstance(request.user, Person) else ""
        leaving = request.query_params.get("person", own)
        if leaving in seats.held(request._request) and (person := Person.objects.filter(pk=leaving).first()):
            audit(None, person, "sign_out")
        seats.leave(request._request, leaving)
        request.user = request._request.user
        return Response(described(request))


def sign_in(request: Request, name: str, password: str) -> None:
    plain, name = request._request, as_typed(name)
    by = str(derive_login_method(name).value)
    person = get_adapter().authenticate(plain, **{by: name, "password": password})
    if person is None and by != "username":
        person = get_adapter().authenticate(plain, username=name, password=password)
    if not isinstance(person, Person):
        raise ApiError(*WRONG)
    perform_password_login(plain, {by: name}, Login(user=person))
    if plain.user != person:
        raise ApiError(*SECOND_STEP)
    request.user = person


def _let_pass(person: Person, seat: Seat | None, pin: str) -> None:
    if seat and is_locked(seat):
        raise ApiError(*LOCKED)
    if not person.pin:
        return
    if not pin or seat is None:
        raise ApiError(*PIN_NEEDED)
    if not is_pin(person, pin):
        left = wrong_pin(seat)
        raise ApiError(403, "wrong_pin", "That is not your PIN: try again.", "pin", left=left)


def described(request: Request) -> dict[str, Any]:
    person = request.user if isinstance(request.user, Person) else None
    return {
        "person": {"id": person.pk, "name": person.name} if person else None,
        "account": account_of(person) if person else None,
        "farms": [farm_of(member) for member in memberships(person)],
        "seats": seats.listed(request._request),
        "sign_up": settings.SIGN_UP,
        "mail": settings.MAIL,
        "csrf": get_token(request._request),
        "versions": versions(),
    }


def account_of(person: Person) -> dict[str, Any]:
    return {
        "email": person.email,
        "pin": bool(person.pin),
        "recovery_code": bool(person.recovery),
        "second_step": person.second_step,
    }


def farm_of(member: Membership) -> dict[str, Any]:
    farm = member.farm
    made: dict[str, Any] = {
        "id": farm.id,
        "name": farm.name,
        "zone": farm.zone,
        "role": member.role,
        "epoch": farm.epoch,
    }
    days = {"starts_on": member.starts_on, "ends_on": member.ends_on}
    made |= {name: day.isoformat() for name, day in days.items() if day}
    return made | ({"pack": member.pack} if member.pack else {})
