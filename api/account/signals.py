"""What allauth says has happened, into the audit and onto the seats."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest

from herd.models import Person
from herd.services.audit import audit
from herd.services.seats import end_seats


def listen() -> None:
    from allauth.account import signals as account
    from allauth.mfa import signals as mfa

    account.user_logged_in.connect(_signed_in)
    account.password_changed.connect(_new_password)
    account.password_set.connect(_new_password)
    account.password_reset.connect(_reset)
    account.login_code_rejected.connect(_wrong_code)
    account.password_reset_code_rejected.connect(_wrong_code)
    account.email_changed.connect(_new_mail)
    account.email_removed.connect(_no_mail)
    mfa.authenticator_added.connect(_key_added)
    mfa.authenticator_removed.connect(_key_removed)


def _signed_in(request: HttpRequest, user: Person, **_: Any) -> None:
    from .address import client_address

    agent = request.META.get("HTTP_USER_AGENT", "")[:200]
    audit(None, user, "sign_in", f"from {client_address(request)} {agent}".strip())


def _new_password(request: HttpRequest, user: Person, **_: Any) -> None:
    """Her seats elsewhere are over; the one she sits on goes on under the new password."""
    from .seats import SEATS, browser_of, held

    audit(None, user, "password_changed")
    end_seats(user, but=browser_of(request))
    request.session[SEATS] = {**held(request), user.pk: user.get_session_auth_hash()}


def _reset(user: Person, **_: Any) -> None:
    audit(None, user, "password_reset", "by a code in a mail")
    end_seats(user)


def _wrong_code(request: HttpRequest, user: Person, **_: Any) -> None:
    from .address import client_address

    audit(None, user, "wrong_mail_code", f"from {client_address(request)}")


def _new_mail(user: Person, **_: Any) -> None:
    """Whichever browser the link was opened in."""
    audit(None, user, "email_changed")


def _no_mail(user: Person, email_address: Any, **_: Any) -> None:
    """One that was never shown to be hers was no address of hers."""
    if email_address.verified:
        audit(None, user, "email_removed")


def _key_added(user: Person, authenticator: Any, **_: Any) -> None:
    if authenticator.type == authenticator.Type.WEBAUTHN:
        audit(None, user, "passkey_added")


def _key_removed(user: Person, authenticator: Any, **_: Any) -> None:
    if authenticator.type == authenticator.Type.WEBAUTHN:
        audit(None, user, "passkey_removed")
