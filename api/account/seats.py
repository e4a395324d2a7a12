"""Who may take over on this browser. The session holds it; a row in the database lets it be ended from elsewhere."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date, timedelta
from typing import Any

from allauth.account.internal.flows.login import get_authentication_records
from allauth.usersessions.models import UserSession
from django.contrib.auth import logout
from django.http import HttpRequest
from django.utils import timezone
from django.utils.crypto import constant_time_compare

from herd.models import Person, Seat
from herd.services.pins import verifier
from herd.services.seats import is_locked, new_browser, seats_on, take_seat

from ..errors import ApiError

SEATS, BROWSER, PROVED = "seats", "browser", "proved_on"
# However much it is used: a phone that was lost or passed on is not somebody's for good.
PROOF_LASTS_D = 180
ROWS = "seat_rows"
# Where allauth notes how somebody signed in; its own reader is used for reading.
RECORDS = ("account_authentication_methods", "account_authentication_methods_user")
PASSWORD_NEEDED = (403, "password_needed", "Enter your password first.", "password")


def held(request: HttpRequest) -> dict[str, str]:
    return dict(request.session.get(SEATS, {}))


def browser_of(request: HttpRequest) -> str:
    return str(request.session.get(BROWSER, ""))


def rows(request: HttpRequest) -> dict[str, Seat]:
    """Asked once a request: a push looks at each member of the farm."""
    kept = vars(request)
    if ROWS not in kept:
        kept[ROWS] = seats_on(browser_of(request))
    found: dict[str, Seat] = kept[ROWS]
    return found


def has_seat(request: HttpRequest, person: Person) -> bool:
    """Has signed in on this browser and not out again. A new password, set anywhere, ends every seat."""
    kept = held(request).get(person.pk, "")
    # A new secret key ends none, as long as the old one is named beside it.
    valid = (person.get_session_auth_hash(), *person.get_session_auth_fallback_hash())
    if not person.is_active or not any(constant_time_compare(kept, one) for one in valid):
        return False
    if proved_too_long_ago(request, person.pk):
        return False
    # Who signed in before there were rows has none, and keeps her seat.
    return not browser_of(request) or person.pk in rows(request)


def proved_too_long_ago(request: HttpRequest, person: str) -> bool:
    """Who sat down before such days were kept has them counted from the day she is next seen."""
    today, proved = timezone.now().date(), dict(request.session.get(PROVED, {}))
    if person not in proved:
        request.session[PROVED] = {**proved, person: today.isoformat()}
        return False
    return date.fromisoformat(proved[person]) + timedelta(days=PROOF_LASTS_D) < today


def seats_among(request: HttpRequest, people: Iterable[Person]) -> frozenset[str]:
    """In whose names whoever is on may send: those whose place anybody here could take this moment. What somebody with
    a PIN recorded waits on the phone until she is on herself."""
    return frozenset(person.pk for person in people if has_seat(request, person) and not _kept_shut(request, person))


def _kept_shut(request: HttpRequest, person: Person) -> bool:
    seat = rows(request).get(person.pk)
    return bool(person.pin) or (seat is not None and is_locked(seat))


def sit_down(request: HttpRequest, person: Person, sign_in: Callable[[], None], *, proven: bool = True) -> None:
    """Django empties the session when somebody else signs in, so that nothing of one person is left to another: the
    seats stay, and of what was proved only what she proved herself."""
    seats, browser = held(request), browser_of(request) or _named(request)
    proved = dict(request.session.get(PROVED, {}))
    records = {name: request.session.get(name) for name in RECORDS} if proven else {}
    sign_in()
    request.user = person
    request.session[SEATS] = {**seats, person.pk: person.get_session_auth_hash()}
    request.session[BROWSER] = browser
    request.session[PROVED] = {**proved, **({person.pk: timezone.now().date().isoformat()} if proven else {})}
    for name, value in records.items():
        if value is not None and records[RECORDS[1]] == person.pk:
            request.session[name] = value
    if proven or not seats_on(browser).get(person.pk):
        take_seat(browser, person, request.META.get("HTTP_USER_AGENT", ""))
    UserSession.objects.create_from_request(request)
    vars(request).pop(ROWS, None)


def _named(request: HttpRequest) -> str:
    """A browser's first name, with a row for each who has sat on it since before there were any."""
    browser = new_browser()
    for person in Person.objects.filter(pk__in=held(request)):
        if has_seat(request, person):
            take_seat(browser, person, request.META.get("HTTP_USER_AGENT", ""))
    return browser


def leave(request: HttpRequest, leaving: str) -> None:
    """Signs out one person; the others who share the browser keep their seats."""
    seats, browser, proved = held(request), browser_of(request), dict(request.session.get(PROVED, {}))
    seats.pop(leaving, None)
    Seat.objects.filter(browser=browser or None, person_id=leaving).delete()
    if isinstance(request.user, Person) and request.user.pk == leaving:
        UserSession.objects.filter(session_key=request.session.session_key).delete()
        logout(request)
    if seats or SEATS in request.session:
        request.session[SEATS], request.session[BROWSER], request.session[PROVED] = seats, browser, proved
    vars(request).pop(ROWS, None)


def listed(request: HttpRequest) -> list[dict[str, Any]]:
    """For who's on, with what a phone without a signal needs to check a PIN by itself."""
    people = Person.objects.filter(pk__in=held(request)).order_by("name") if held(request) else []
    return [
        {"id": one.pk, "name": one.name, "pin": bool(one.pin), "verifier": verifier(one)}
        for one in people
        if has_seat(request, one)
    ]


def must_have_proved(request: HttpRequest, person: Person) -> None:
    """On a shared phone anybody may be on in her name: what counts for good takes her password or passkey."""
    if not get_authentication_records(request, person):
        raise ApiError(*PASSWORD_NEEDED)
