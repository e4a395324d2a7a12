from __future__ import annotations

from typing import Any

from django.contrib.auth import authenticate, login, logout
from django.http import HttpRequest
from django.middleware.csrf import get_token
from django.utils.crypto import constant_time_compare
from django.utils.decorators import method_decorator
from django.views.decorators.csrf import csrf_protect
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from herd.models import Membership, Person
from herd.services.versions import versions

from .errors import ApiError
from .throttle import count

TRIES, WINDOW_S = 10, 15 * 60
WRONG = (400, "wrong_password", "That name and password do not belong together.", "password")
NOT_HERE = (404, "not_here", "Whoever that is has not signed in on this phone, or has signed out again.", "person")
SEATS = "seats"
BACKEND = "django.contrib.auth.backends.ModelBackend"


@method_decorator(csrf_protect, name="dispatch")
class SessionView(APIView):
    """Who is signed in on this phone. Signing in here never touches what the phone has recorded."""

    permission_classes = (AllowAny,)

    def get(self, request: Request) -> Response:
        return Response(described(request))

    def post(self, request: Request) -> Response:
        name, password = _text(request, "name"), _text(request, "password")
        count(f"sign_in:{name.casefold()[:60]}:{request.META.get('REMOTE_ADDR')}", TRIES, WINDOW_S)
        person = authenticate(request._request, username=name, password=password)
        if not isinstance(person, Person):
            raise ApiError(*WRONG)
        _sit_down(request, person)
        return Response(described(request))

    def put(self, request: Request) -> Response:
        """Somebody who has signed in on this browser, and not out again, is on now: no password in the barn."""
        person = Person.objects.filter(pk=_text(request, "person"), is_active=True).first()
        if person is None or not has_seat(request, person):
            raise ApiError(*NOT_HERE)
        if request.user != person:
            _sit_down(request, person)
        return Response(described(request))

    def delete(self, request: Request) -> Response:
        """Signs out one person; the others who share the browser keep their seats, and nobody is on."""
        own = str(request.user.pk) if isinstance(request.user, Person) else ""
        leaving = request.query_params.get("person", own)
        seats = _seats(request)
        seats.pop(leaving, None)
        if leaving == own:
            logout(request._request)
            request.user = request._request.user
        if seats or SEATS in request.session:
            request.session[SEATS] = seats
        return Response(described(request))


def _seats(request: Request | HttpRequest) -> dict[str, str]:
    return dict(request.session.get(SEATS, {}))


def has_seat(request: Request | HttpRequest, person: Person) -> bool:
    """Has signed in on this browser and not out again. A new password, set anywhere, ends every seat."""
    held = _seats(request).get(person.pk, "")
    # A new secret key ends none, as long as the old one is named beside it.
    valid = (person.get_session_auth_hash(), *person.get_session_auth_fallback_hash())
    return person.is_active and any(constant_time_compare(held, one) for one in valid)


def _sit_down(request: Request, person: Person) -> None:
    """Django empties the session when somebody else signs in, so that nothing of one person is left to another."""
    seats = _seats(request)
    login(request._request, person, backend=BACKEND)
    request.user = person
    request.session[SEATS] = {**seats, person.pk: person.get_session_auth_hash()}


def described(request: Request) -> dict[str, Any]:
    person = request.user if isinstance(request.user, Person) else None
    return {
        "person": {"id": person.pk, "name": person.name} if person else None,
        "farms": [farm_of(member) for member in memberships(person)],
        "csrf": get_token(request._request),
        "versions": versions(),
    }


def memberships(person: Person | None) -> list[Membership]:
    return list(Membership.objects.filter(person=person).select_related("farm").order_by("id")) if person else []


def farm_of(member: Membership) -> dict[str, Any]:
    farm = member.farm
    return {"id": farm.id, "name": farm.name, "zone": farm.zone, "role": member.role, "epoch": farm.epoch}


def _text(request: Request, name: str) -> str:
    value = request.data.get(name) if isinstance(request.data, dict) else None
    if not isinstance(value, str) or not 0 < len(value) <= 200 or "\0" in value:
        raise ApiError(400, "bad_field", f"Fill in the {name}.", name)
    return value
