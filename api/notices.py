"""What a person is told of a farm, where, and when not: hers to set, on the phone she holds."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from herd.models import NoticeChoice, PushSubscription, Seat
from herd.services.limits import HOUR_S, Limit, hit
from herd.services.telling.choices import BadChoice, choose, listed, subscribe, try_one, unsubscribe
from herd.services.telling.kinds import DAY_MIN, KINDS, LANGUAGES
from herd.services.telling.vapid import public_key

from .account import seats
from .bodies import Body, Text
from .errors import ApiError
from .permissions import Recorder
from .throttle import Throttle
from .views import FarmView, OwnView

CHANGES = Limit("notice_changes", 120, HOUR_S)
TRIES = Limit("notice_tries", 10, HOUR_S)
NO_SEAT = (409, "no_seat", "Sign in on this phone anew, then turn notices on.")
NOT_ON = (409, "not_on", "Turn notices on for this phone first.")


class Subscription(Body):
    endpoint = Text(max_length=1000)
    p256dh = Text(max_length=100)
    auth = Text(max_length=40)


class Choices(Body):
    kinds = serializers.ListField(child=Text(max_length=10), max_length=len(KINDS))
    quiet_from_min = serializers.IntegerField(min_value=0, max_value=DAY_MIN - 1)
    quiet_to_min = serializers.IntegerField(min_value=0, max_value=DAY_MIN - 1)
    language = serializers.ChoiceField(LANGUAGES)


class Changes(Throttle):
    def count(self, request: Request, view: Any) -> None:
        hit(CHANGES, str(request.user.pk))


class PushView(OwnView):
    """Whether this browser is told, for all farms of hers."""

    takes = {"PUT": Subscription}
    throttle_classes = (Changes,)

    def put(self, request: Request) -> Response:
        person, asked = self.person, self.asked
        seat = _seat(request)
        if seat is None or seat.person_id != person.pk:
            raise ApiError(*NO_SEAT)
        try:
            subscribe(seat, asked["endpoint"], asked["p256dh"], asked["auth"])
        except BadChoice as error:
            raise _refused(error) from error
        return Response({"here": True})

    def delete(self, request: Request) -> Response:
        unsubscribe(_seat(request))
        return Response(status=204)


class NoticesView(FarmView):
    """What she chose, and what she was told."""

    permission_classes = (Recorder,)
    throttle_classes = (Changes,)
    takes = {"PUT": Choices}

    def get(self, request: Request, farm_id: str) -> Response:
        return Response(self.shown(request))

    def put(self, request: Request, farm_id: str) -> Response:
        try:
            choose(self.held.farm, self.held.person, self.asked)
        except BadChoice as error:
            raise _refused(error) from error
        return Response(self.shown(request))

    def shown(self, request: Request) -> dict[str, Any]:
        farm, person, seat = self.held.farm, self.held.person, _seat(request)
        choice = NoticeChoice.objects.filter(farm=farm, person=person).first() or NoticeChoice()
        return {
            "key": public_key(settings.VAPID_KEY_FILE),
            "here": PushSubscription.objects.filter(seat=seat).exists() if seat else False,
            "kinds": choice.kinds,
            "quiet_from_min": choice.quiet_from_min,
            "quiet_to_min": choice.quiet_to_min,
            "language": choice.language,
            "notices": listed(farm, person, choice.language),
        }


class TryView(FarmView):
    """One by the whole way, to wherever she is told."""

    permission_classes = (Recorder,)

    def post(self, request: Request, farm_id: str) -> Response:
        if not PushSubscription.objects.filter(seat__person=self.held.person).exists():
            raise ApiError(*NOT_ON)
        hit(TRIES, self.held.person.pk)
        try_one(self.held.farm, self.held.person)
        return Response(status=204)


def _seat(request: Request) -> Seat | None:
    return seats.rows(request._request).get(str(request.user.pk))


def _refused(error: BadChoice) -> ApiError:
    return ApiError(400, "bad_field", str(error), error.where)
