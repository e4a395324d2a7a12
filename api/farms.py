from __future__ import annotations

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from herd.services.limits import DAY_S, Limit, hit
from herd.services.make_farm import BadFarm, make_farm
from herd.services.members import memberships

from .access import signed_in
from .bodies import Body, Text, checked
from .errors import ApiError
from .session import farm_of

FARMS = Limit("farms", 20, DAY_S)


class NewFarm(Body):
    name = Text(max_length=200)
    zone = Text(max_length=100)


class FarmsView(APIView):
    """A signed-in person's farms; making one makes them its owner."""

    def get(self, request: Request) -> Response:
        return Response({"farms": [farm_of(member) for member in memberships(signed_in(request._request))]})

    def post(self, request: Request) -> Response:
        person = signed_in(request._request)
        asked = checked(NewFarm, request)
        hit(FARMS, person.pk)
        try:
            farm = make_farm(asked["name"], asked["zone"], person)
        except BadFarm as error:
            raise ApiError(400, "bad_field", str(error), error.field) from error
        return Response(farm_of(next(m for m in memberships(person) if m.farm_id == farm.id)), status=201)
