from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from herd.services.seats import renew_seats

RENEWED = "renewed_on"


class RollingSession:
    """Starts the 90 days again on each day somebody uses the app: one write a day, not one a request."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        session = request.session
        today = timezone.now().date().isoformat()
        if session.accessed and session.get("_auth_user_id") and session.get(RENEWED) != today:
            session[RENEWED] = today
            renew_seats(session.get("browser", ""))
        return response
