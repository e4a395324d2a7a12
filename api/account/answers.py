"""allauth's answers carry our {code, message, where} beside its own words, so that the client switches on one thing."""

from __future__ import annotations

import json
from typing import Any

from django.http import HttpRequest, JsonResponse
from django.http.response import HttpResponseBase

from ..bodies import plain_json
from ..errors import SIGN_IN, ApiError
from .user_handle import named_in

PREFIX = "/api/auth/"
WHERE = {"username": "name"}
OWN_MAIL, BY_KEY_ALONE = "/account/email", "/auth/webauthn/login"
UNAUTHORIZED, FORBIDDEN, CONFLICT, TOO_MANY = 401, 403, 409, 429
NOBODY_ON = (*SIGN_IN[1:], "")
AGAIN = ("password_needed", "Enter your password first.", "password")
STEP = ("second_step", "Now use your passkey.", "")
BY_STATUS = {
    CONFLICT: ("conflict", "That does not go just now: somebody is signed in, or it was done already.", ""),
    TOO_MANY: ("busy", "Too many tries: wait a little, then try again.", ""),
}
JUST_SENT = ("mail_just_sent", "A mail went there a moment ago: look for it, or wait a few minutes.", "email")
OTHER = ("not_allowed", "You may not do that here.", "")


def guard(request: HttpRequest) -> None:
    if request.path.startswith(PREFIX) and request.method != "GET" and request.body:
        said = plain_json(request.body)
        # No id holds a control, and PostgreSQL takes no NUL: allauth would ask for it all the same.
        if request.path.endswith(BY_KEY_ALONE) and not named_in(said).isprintable():
            raise ApiError(400, "incorrect_code", "That passkey is not known here.", "credential")


def in_our_shape(request: HttpRequest, response: HttpResponseBase) -> HttpResponseBase:
    if not request.path.startswith(PREFIX) or response.status_code < 400 or not isinstance(response, JsonResponse):
        return response
    said = json.loads(response.content)
    if "code" in said:
        return response
    sent_already = response.status_code == FORBIDDEN and request.path.endswith(OWN_MAIL)
    code, message, where = JUST_SENT if sent_already else _said(said, response.status_code)
    response.content = json.dumps({**said, "code": code, "message": message, "where": where}).encode()
    if response.has_header("Content-Length"):
        response["Content-Length"] = str(len(response.content))
    return response


def _said(said: dict[str, Any], status: int) -> tuple[str, str, str]:
    if errors := said.get("errors"):
        param = str(errors[0].get("param", ""))
        return str(errors[0].get("code", "")), str(errors[0].get("message", "")), WHERE.get(param, param)
    if status != UNAUTHORIZED:
        return BY_STATUS.get(status, OTHER)
    if said.get("meta", {}).get("is_authenticated"):
        return AGAIN
    flows = said.get("data", {}).get("flows", [])
    return STEP if any(one["id"] == "mfa_authenticate" and one.get("is_pending") for one in flows) else NOBODY_ON
