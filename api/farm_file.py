"""A farm out of the file another server made of it: said how large and by whom, sent in parts, then taken in."""

from __future__ import annotations

import errno
from collections.abc import Iterator
from contextlib import contextmanager

from django.http import HttpRequest, JsonResponse
from django.views.decorators.http import require_http_methods
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from herd.models import Farm, FarmFile, Person
from herd.services.health import FULL
from herd.services.leaving import arriving
from herd.services.leaving.opened import BadFarmFile
from herd.services.limits import DAY_S, Limit, hit
from herd.services.members import memberships
from herd.services.names import BadName, plain_name

from .access import signed_in
from .account.password import PasswordAgain, know_password
from .bodies import Body, Text
from .errors import NOT_FOUND, ApiError
from .session import farm_of
from .views import OwnView

FILES = Limit("farm_files", 10, DAY_S)
NO_PLACE = (503, FULL.code, "The disk of the server is too full for this file: whoever runs it makes room on it.")
BAD_PART = (400, "bad_part", "That is no part of this file: begin anew.", "number")
NOT_ALL = (409, "not_all_here", "Some of the file never came: begin anew.")
UNDER_WAY = (503, "busy", "The server is taking in another farm: ask again in a moment.")


class NewFarmFile(PasswordAgain):
    bytes = serializers.IntegerField(min_value=1, max_value=2**53)


class TakenInAs(Body):
    name = Text(max_length=200, required=False, allow_blank=True, default="")


class FarmFileView(OwnView):
    """Before anything is sent: whether it may come at all. The password, because a farm is made of it for good."""

    takes = {"POST": NewFarmFile}

    def post(self, request: Request) -> Response:
        person = self.person
        know_password(request._request, person, self.asked["password"])
        with said():
            arriving.check_size(self.asked["bytes"])
            hit(FILES, person.pk)
            made = arriving.begin(person, self.asked["bytes"])
        return Response({"file": made.pk, "part_bytes": arriving.PART_BYTES}, status=201)


@require_http_methods(["PUT"])
def part(request: HttpRequest, file: str, number: int) -> JsonResponse:
    found = own(signed_in(request), file)
    if not arriving.put(found, number, request.body):
        raise ApiError(*BAD_PART)
    return JsonResponse({"number": number})


class TakeInView(OwnView):
    """What was sent becomes a farm of hers, all of it or nothing. Asked again, the same one is answered."""

    takes = {"POST": TakenInAs}

    def post(self, request: Request, file: str) -> Response:
        person = self.person
        found = own(person, file)
        name = self.asked["name"] and named(self.asked["name"])
        with said():
            farm = arriving.open_up(found, name)
        row = next((one for one in memberships(person) if one.farm_id == farm.pk), None)
        if row is None:
            raise ApiError(*NOT_FOUND)
        return Response(farm_of(row), status=201)


def own(person: Person, file: str) -> FarmFile:
    found = FarmFile.objects.filter(pk=file, person=person).first()
    if found is None:
        raise ApiError(*NOT_FOUND)
    return found


def named(name: str) -> str:
    try:
        return plain_name(name, "name of the farm")
    except BadName as error:
        raise ApiError(400, "bad_field", str(error), "name") from error


@contextmanager
def said() -> Iterator[None]:
    try:
        yield
    except BadFarmFile as error:
        raise ApiError(400, error.code, str(error), "file") from error
    except arriving.NoPlace as error:
        raise ApiError(*NO_PLACE) from error
    except arriving.NotAllHere as error:
        raise ApiError(*NOT_ALL) from error
    except arriving.UnderWay as error:
        raise ApiError(*UNDER_WAY, wait_s=5) from error
    except (FarmFile.DoesNotExist, Farm.DoesNotExist) as error:
        raise ApiError(*NOT_FOUND) from error
    except OSError as error:
        if error.errno not in (errno.ENOSPC, errno.EDQUOT):
            raise
        raise ApiError(*NO_PLACE) from error
