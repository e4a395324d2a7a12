"""The farm's year for somebody's own calendar: a link she makes and takes back, and what it answers."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET
from rest_framework.request import Request
from rest_framework.response import Response

from herd.services.calendar_feed import feed
from herd.services.calendar_links import NoLink, find_link, link_of, make_link, revoke_link
from herd.services.limits import HOUR_S, MINUTE_S, Limit, hit

from .account.address import client_house
from .bodies import Body, Text
from .errors import NOT_FOUND, ApiError
from .people.invitations import drawn
from .permissions import Keeper, Proved
from .views import FarmView

# A calendar asks some times a day; whoever guesses asks more often.
READS = Limit("calendar_reads", 60, HOUR_S)
MISSES = Limit("calendar_misses", 40, 15 * MINUTE_S)
LONGEST = 100
KIND = "text/calendar; charset=utf-8"


class NewLink(Body):
    language = Text(max_length=5, required=False, allow_blank=True, default="")


class CalendarView(FarmView):
    """Whether she has a link; a new one is answered with its address and picture, which are not shown again."""

    permission_classes = (Keeper, Proved)
    takes = {"POST": NewLink}

    def get(self, request: Request, farm_id: str) -> Response:
        row = link_of(self.held.farm, self.held.person)
        return Response({"made": int(row.made_at.timestamp() * 1000) if row else None})

    def post(self, request: Request, farm_id: str) -> Response:
        row, secret = make_link(self.held.farm, self.held.person, self.asked["language"])
        link = request._request.build_absolute_uri(f"/api/calendar/{secret}.ics")
        return Response({"made": int(row.made_at.timestamp() * 1000), "link": link, "qr": drawn(link)}, status=201)

    def delete(self, request: Request, farm_id: str) -> Response:
        revoke_link(self.held.farm, self.held.person)
        return Response(status=204)


@require_GET
def calendar(request: HttpRequest, secret: str) -> HttpResponse:
    """Nobody is signed in here: whoever has the address reads it, and reads nothing else by it."""
    try:
        row = find_link(secret[:LONGEST])
    except NoLink as error:
        hit(MISSES, client_house(request))
        raise ApiError(*NOT_FOUND) from error
    hit(READS, str(row.pk))
    return HttpResponse(feed(row.farm, row.language), content_type=KIND, headers={"Referrer-Policy": "no-referrer"})
