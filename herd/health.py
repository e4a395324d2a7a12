"""The health line, before anything that could be in its way: it answers under every name of the machine."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse, JsonResponse

from herd.services.health import health

PATH = "/healthz"


class HealthFirst:
    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if request.path != PATH or request.method not in ("GET", "HEAD"):
            return self.get_response(request)
        ill = health()
        said = {"ok": True} if ill is None else {"ok": False, "code": ill.code, "message": ill.message, "where": ""}
        return JsonResponse(said, status=200 if ill is None else 503, headers={"Cache-Control": "no-store"})
