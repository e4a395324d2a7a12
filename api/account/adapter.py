from __future__ import annotations

from typing import Any

from allauth.account.adapter import DefaultAccountAdapter
from django.conf import settings
from django.contrib.auth.base_user import AbstractBaseUser
from django.core.exceptions import ValidationError
from django.http import HttpRequest

from herd.models import Person
from herd.services.audit import audit
from herd.services.invitations import sign_up_is_open
from herd.services.names import BadName, as_typed, plain_name

from ..errors import ApiError
from . import doors, seats
from .address import client_address
from .answers import OWN_MAIL

NO_MAIL = (409, "no_mail", "This server sends no mail: use the recovery code you printed.")


class AccountAdapter(DefaultAccountAdapter):
    """How allauth's sign-in meets ours: our names, our seats, and one count of failures for every door."""

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        """Asked as well for the list of doors that goes with every 401: only somebody at that door is counted."""
        if sign_up_is_open() and request.method == "POST" and request.path.endswith("/signup"):
            doors.before_sign_up(request)
        return sign_up_is_open()

    def clean_username(self, username: str, shallow: bool = False) -> str:
        try:
            name = plain_name(username)
        except BadName as error:
            raise ValidationError(str(error), code="bad_name") from error
        return str(super().clean_username(name, shallow))

    def clean_email(self, email: str) -> str:
        """Where no mail is sent nothing is kept of an address somebody asks for: it could never be shown to be hers."""
        if not settings.MAIL and self.request.path.endswith(OWN_MAIL):
            seats.must_have_proved(self.request, self.request.user)
            raise ApiError(*NO_MAIL)
        return str(super().clean_email(email))

    def get_client_ip(self, request: HttpRequest) -> str:
        return client_address(request)

    def pre_authenticate(self, request: HttpRequest, **credentials: Any) -> None:
        doors.before_sign_in(request, _named(credentials))

    def authenticate(self, request: HttpRequest, **credentials: Any) -> AbstractBaseUser | None:
        if "username" in credentials:
            credentials["username"] = as_typed(str(credentials["username"]))
        person: AbstractBaseUser | None = super().authenticate(request, **credentials)
        if person:
            doors.after_sign_in(request, _named(credentials))
        return person

    def authentication_failed(self, request: HttpRequest, **credentials: Any) -> None:
        """Of a name nobody has nothing is kept: a password may have been typed there."""
        named = _named(credentials)
        person = Person.objects.filter(name__iexact=named).first() or _by_mail(credentials.get("email"))
        if person:
            audit(None, person, "sign_in_failed", f"from {client_address(request)}")

    def login(self, request: HttpRequest, user: Person) -> None:
        seats.sit_down(request, user, lambda: super(AccountAdapter, self).login(request, user))

    def logout(self, request: HttpRequest) -> None:
        if isinstance(request.user, Person):
            audit(None, request.user, "sign_out")
            seats.leave(request, request.user.pk)

    def send_mail(self, template_prefix: str, email: str, context: dict[str, Any]) -> None:
        if not settings.MAIL:
            raise ApiError(*NO_MAIL)
        super().send_mail(template_prefix, email, context)


def _named(credentials: dict[str, Any]) -> str:
    return str(credentials.get("username") or credentials.get("email") or "")


def _by_mail(email: Any) -> Person | None:
    return Person.objects.filter(email__iexact=email).first() if email else None
