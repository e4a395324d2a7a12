from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from herd.models import Person
from herd.services.audit import audit

from . import seats


class ProofLasts:
    """Whoever has not signed in for half a year is signed out, however much she uses the phone; others who share it
    stay. Her phone keeps what it has and asks for her password."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        # A file of the client needs nobody's session.
        if request.path.startswith("/api/") and settings.SESSION_COOKIE_NAME in request.COOKIES:
            self._end_if_long_ago(request)
        return self.get_response(request)

    def _end_if_long_ago(self, request: HttpRequest) -> None:
        person = request.user
        if isinstance(person, Person) and seats.proved_too_long_ago(request, person.pk):
            audit(None, person, "half_year_over")
            seats.leave(request, person.pk)
