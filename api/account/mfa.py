from __future__ import annotations

import json
from typing import Any

from allauth.account.internal.stagekit import get_pending_stage
from allauth.core import context
from allauth.mfa.adapter import DefaultMFAAdapter
from allauth.mfa.models import Authenticator
from allauth.mfa.webauthn.internal import auth
from django.core.exceptions import ValidationError
from django.http import HttpRequest

from herd.models import Person
from herd.services.audit import audit
from herd.services.limits import Busy, Limit, hit

from .address import client_address
from .doors import QUARTER_S
from .user_handle import named_in

BY_KEY = ("/auth/webauthn/login", "/auth/webauthn/authenticate", "/auth/webauthn/reauthenticate")
# A key names its person by itself: whoever makes such names up must not fill her farm's list.
WRITTEN_DOWN = Limit("wrong_passkeys", 10, QUARTER_S)


class SecondStep(DefaultMFAAdapter):
    """A passkey opens the account by itself. That a password is not enough without it is her own choice: the shared
    phone in the barn cannot use the key that lies in her pocket."""

    def is_mfa_enabled(self, user: Any, types: Any = None) -> bool:
        asked = types is not None and Authenticator.Type.WEBAUTHN in types
        if asked and not getattr(user, "second_step", False):
            return False
        return bool(super().is_mfa_enabled(user, types))

    def validation_error(self, code: str, *args: Any) -> ValidationError:
        """The one place that hears of a wrong passkey: there is no signal. Nothing asked for is late, and not wrong."""
        request = context.request
        if code == "incorrect_code" and request.path.endswith(BY_KEY) and auth.get_state():
            _write_down(request)
        error: ValidationError = super().validation_error(code, *args)
        return error


def _write_down(request: HttpRequest) -> None:
    if (person := _whose(request)) is None:
        return
    try:
        hit(WRITTEN_DOWN, person.pk)
    except Busy:
        return
    audit(None, person, "wrong_passkey", f"from {client_address(request)}")


def _whose(request: HttpRequest) -> Person | None:
    """Who is on, whose password was right a moment ago, or whom the key names."""
    if isinstance(request.user, Person):
        return request.user
    if stage := get_pending_stage(request):
        pending: Person = stage.login.user
        return pending
    return Person.objects.filter(pk=named_in(json.loads(request.body))).first()
