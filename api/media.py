"""Pictures and recordings: each by its mark, after the entries that name it."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.http import require_GET, require_http_methods

from herd.models.farm import ADVISER
from herd.services.limits import DAY_S
from herd.services.media import NoRoom, keep, kept, room_of
from herd.services.media_formats import BadMedia
from herd.services.set_aside import shows
from herd.state.checks import PATTERNS

from .access import READ_ONLY, REMOVED, Access, access
from .errors import NOT_FOUND, ApiError
from .throttle import count

A_DAY = 500


@require_http_methods(["GET", "PUT"])
def media(request: HttpRequest, farm_id: str, sha256: str) -> HttpResponse:
    held = access(request, farm_id, gone_too=request.method == "PUT")
    if not PATTERNS["sha256"].fullmatch(sha256):
        raise ApiError(*NOT_FOUND)
    if held.gone and not shows(held.farm, held.person, sha256):
        raise ApiError(*REMOVED)
    return _put(request, held, sha256) if request.method == "PUT" else _get(held, sha256)


def _put(request: HttpRequest, held: Access, sha256: str) -> HttpResponse:
    if held.role == ADVISER:
        raise ApiError(*READ_ONLY)
    count(f"media:{held.farm.id}:{held.person.pk}", A_DAY, DAY_S)
    try:
        keep(held.farm.id, held.person.pk, sha256, request.body)
    except NoRoom as error:
        raise ApiError(413, "no_room", str(error), "media") from error
    except BadMedia as error:
        raise ApiError(400, "bad_media", str(error), "media") from error
    return JsonResponse({"sha256": sha256})


def _get(held: Access, sha256: str) -> HttpResponse:
    found = kept(held.farm.id, sha256)
    if found is None or not (held.only is None or held.only.sees(sha256)):
        raise ApiError(*NOT_FOUND)
    # Never anything a browser would run, whatever somebody managed to have kept.
    safe = {"Content-Disposition": "attachment", "X-Content-Type-Options": "nosniff"}
    return HttpResponse(bytes(found.content), content_type=found.media, headers=safe)


@require_GET
def room(request: HttpRequest, farm_id: str) -> HttpResponse:
    """How much of what the farm may keep is used, in bytes."""
    found = room_of(access(request, farm_id).farm.id)
    return JsonResponse({"used": found.used, "most": found.most})
