"""Every error has one shape: {code, message, where}. The client switches on the code, never on the text."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import PermissionDenied
from django.db import DatabaseError
from django.http import Http404, HttpRequest, JsonResponse
from rest_framework import exceptions
from rest_framework.response import Response

from herd.services.health import BUSY, FULL, READ_ONLY, told
from herd.services.limits import Busy


class ApiError(Exception):
    def __init__(self, status: int, code: str, message: str, where: str = "", **more: Any) -> None:
        super().__init__(message)
        self.status, self.headers = status, {"Retry-After": "30"} if status in (429, 503) else {}
        if "wait_s" in more:
            self.headers = {"Retry-After": str(more["wait_s"])}
        self.body = {"code": code, "message": message, "where": where, **more}


SIGN_IN = (401, "sign_in", "Sign in to go on. Everything recorded is kept on this phone.")
NOT_FOUND = (404, "not_found", "There is nothing here.")
CSRF = (403, "csrf", "The app must fetch a fresh token and try again.")
BROKEN = (500, "server", "The server made a mistake. Everything recorded is kept on this phone.")
METHOD = (405, "method", "That cannot be done here.")
UNREADABLE = (400, "unreadable", "The server cannot read that.")
BY_STATUS = {answer[0]: answer for answer in (UNREADABLE, SIGN_IN, NOT_FOUND, CSRF, METHOD, BROKEN)}
# What keeps the machine from writing is nobody's mistake, and passes.
PASSES = (FULL, READ_ONLY, BUSY)
PLAIN: dict[type[Exception], tuple[int, str, str]] = {
    exceptions.NotAuthenticated: SIGN_IN,
    exceptions.AuthenticationFailed: SIGN_IN,
    Http404: NOT_FOUND,
    exceptions.NotFound: NOT_FOUND,
    exceptions.MethodNotAllowed: METHOD,
    exceptions.UnsupportedMediaType: UNREADABLE,
    exceptions.ParseError: UNREADABLE,
}


def as_json(error: ApiError) -> JsonResponse:
    response = JsonResponse(error.body, status=error.status, headers=error.headers)
    # To be told to wait is no fault of the server's, and a whole barn of it no page of the log.
    vars(response)["_has_been_logged"] = error.status == 503
    return response


def known_error(error: Exception) -> ApiError:
    if isinstance(error, ApiError):
        return error
    if isinstance(error, (exceptions.PermissionDenied, PermissionDenied)):
        return ApiError(*CSRF) if "CSRF" in str(error) else ApiError(403, "not_allowed", "You may not do that here.")
    if isinstance(error, Busy):
        return ApiError(429, "busy", "Too many tries: wait a little, then try again.", wait_s=error.wait_s)
    if isinstance(error, exceptions.ValidationError):
        where = next(iter(error.detail), "") if isinstance(error.detail, dict) else ""
        named = where.replace("_", " ")
        return ApiError(400, "bad_field", f"Fill in the {named} again." if named else UNREADABLE[2], where)
    if isinstance(error, DatabaseError) and (ill := told(error)) in PASSES:
        return ApiError(503, ill.code if ill is FULL else BROKEN[1], ill.message)
    plain = next((answer for kind, answer in PLAIN.items() if isinstance(error, kind)), BROKEN)
    return ApiError(*plain)


def drf_handler(error: Exception, context: dict[str, Any]) -> Response | None:
    """REST framework's errors in our shape; what it does not know goes on to the middleware, which logs it."""
    if not isinstance(error, (ApiError, Busy, exceptions.APIException, Http404, PermissionDenied)):
        return None
    answer = known_error(error)
    return Response(answer.body, status=answer.status, headers=answer.headers)


def csrf_failure(request: HttpRequest, reason: str = "") -> JsonResponse:
    return as_json(ApiError(*CSRF))
