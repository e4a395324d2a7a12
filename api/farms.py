from __future__ import annotations

from typing import Any

from rest_framework.request import Request
from rest_framework.response import Response

from herd.services.limits import DAY_S, Limit, hit
from herd.services.make_farm import BadFarm, make_farm
from herd.services.members import memberships

from .bodies import Body, Text
from .errors import ApiError
from .session import farm_of
from .throttle import Throttle
from .views import OwnView

FARMS = Limit("farms", 20, DAY_S)


class NewFarm(Body):
    name = Text(max_length=200)
    zone = Text(max_length=100)


class NewFarms(Throttle):
    def count(self, request: Request, view: Any) -> None:
        hit(FARMS, view.person.pk)


class FarmsView(OwnView):
    """A signed-in person's farms; making one makes them its owner."""

    takes = {"POST": NewFarm}
    throttle_classes = (NewFarms,)

    def get(self, request: Request) -> Response:
        return Response({"farms": [farm_of(member) for member in memberships(self.person)]})

    def post(self, request: Request) -> Response:
        person = self.person
        try:
            farm = make_farm(self.asked["name"], self.asked["zone"], person)
        except BadFarm as error:
            raise ApiError(400, "bad_field", str(error), error.field) from error
        return Response(farm_of(next(m for m in memberships(person) if m.farm_id == farm.id)), status=201)
