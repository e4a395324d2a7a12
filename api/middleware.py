"""What holds for every answer under /api: our mark, JSON for every error, no body that inflates without end."""

from __future__ import annotations

import logging
import unicodedata
import zlib
from collections.abc import Callable
from urllib.parse import unquote_to_bytes

from django.http import Http404, HttpRequest, HttpResponse, UnreadablePostError
from django.http.response import HttpResponseBase

from herd.services.limits import Busy

from .account.answers import guard, in_our_shape
from .errors import BY_STATUS, UNREADABLE, ApiError, as_json, known_error

log = logging.getLogger(__name__)
MARK = "X-Mangerline"
MOST_BYTES = 1024 * 1024
GZIP = 31
TOO_BIG = (413, "too_big", "Send at most 500 entries or 1 MB at a time.")
TOO_SLOW = (408, "slow", "That took too long to arrive: send less at a time.")
NOT_GZIP = (400, "unreadable", "The body is not gzip.")
Next = Callable[[HttpRequest], HttpResponseBase]


class ApiAnswers:
    """A phone behind somebody's portal page knows our answers by the mark."""

    def __init__(self, get_response: Next) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        try:
            response = self.answer(request)
        except ApiError as error:
            response = as_json(error)
        response.headers[MARK] = "1"
        if request.path.startswith("/api/"):
            response.headers.setdefault("Cache-Control", "no-store")
        return response

    def answer(self, request: HttpRequest) -> HttpResponseBase:
        if not request.path.startswith("/api/"):
            return self.get_response(request)
        plain_address(request)
        limit_body(request)
        guard(request)
        response = in_our_shape(request, self.get_response(request))
        if is_json(response) or response.status_code < 400:
            return response
        return as_json(ApiError(*BY_STATUS.get(response.status_code, BY_STATUS[500])))

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        if not request.path.startswith("/api/"):
            return None
        if isinstance(error, UnreadablePostError):
            return as_json(ApiError(*TOO_SLOW))
        if not isinstance(error, (ApiError, Busy, Http404)):
            log.error("Unexpected error", exc_info=error)
        return as_json(known_error(error))


def is_json(response: HttpResponseBase) -> bool:
    return response.headers.get("Content-Type", "").startswith("application/json")


def plain_address(request: HttpRequest) -> None:
    """No id and no question of ours holds a control character, and PostgreSQL looks up no text that holds a NUL."""
    asked = unquote_to_bytes(request.META.get("QUERY_STRING", "").encode("latin-1", "replace")).decode(errors="replace")
    if any(unicodedata.category(letter) == "Cc" for letter in request.path + asked):
        raise ApiError(*UNREADABLE)


def limit_body(request: HttpRequest) -> None:
    """Refuse a body over the limit, packed or unpacked, and hand on an unpacked one."""
    if int(request.META.get("CONTENT_LENGTH") or 0) > MOST_BYTES:
        raise ApiError(*TOO_BIG)
    if request.headers.get("Content-Encoding", "").lower() == "gzip":
        body = inflate(request.read())
        request._body = body
        request.META["CONTENT_LENGTH"] = str(len(body))
        del request.META["HTTP_CONTENT_ENCODING"]
        del request.headers


def inflate(packed: bytes) -> bytes:
    unpacker = zlib.decompressobj(GZIP)
    try:
        body = unpacker.decompress(packed, MOST_BYTES + 1)
    except zlib.error as error:
        raise ApiError(*NOT_GZIP) from error
    if len(body) > MOST_BYTES:
        raise ApiError(*TOO_BIG)
    if not unpacker.eof:
        raise ApiError(*NOT_GZIP)
    return body
