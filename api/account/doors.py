"""What is counted where somebody has to know a secret. Only failures count, and a success clears the account's."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from rest_framework.request import Request

from herd.models import Person
from herd.services.limits import DAY_S, HOUR_S, MINUTE_S, Limit, clear, give_back, hit
from herd.services.names import as_typed

from ..throttle import Throttle
from .address import client_house

QUARTER_S = 15 * MINUTE_S
# A farm has one address, and its people mistype at six in the morning.
HERE = Limit("sign_in_here", 10, QUARTER_S)
ACCOUNT = Limit("sign_in_account", 100, HOUR_S)
ADDRESS = Limit("sign_in_address", 40, QUARTER_S)
RECOVERY = Limit("recovery_account", 10, DAY_S)
RECOVERY_ADDRESS = Limit("recovery_address", 20, HOUR_S)
CODES = Limit("codes_address", 20, QUARTER_S)
CODES_PERSON = Limit("codes_person", 10, QUARTER_S)
SIGN_UPS = Limit("sign_ups_address", 30, HOUR_S)


def before_sign_in(request: HttpRequest, name: str) -> None:
    """Counted before it is looked at, so that many tries at once are not let through together."""
    hit(HERE, _here(request, name))
    hit(ADDRESS, client_house(request))
    hit(ACCOUNT, _account(name))


def after_sign_in(request: HttpRequest, name: str) -> None:
    clear(HERE, _here(request, name))
    clear(ACCOUNT, _account(name))
    give_back(ADDRESS, client_house(request))


class Recoveries(Throttle):
    def count(self, request: Request, view: Any) -> None:
        hit(RECOVERY_ADDRESS, client_house(request._request))
        hit(RECOVERY, _account(view.asked["name"]))


def after_recovery(request: HttpRequest, name: str) -> None:
    clear(RECOVERY, _account(name))
    give_back(RECOVERY_ADDRESS, client_house(request))
    after_sign_in(request, name)


class Codes(Throttle):
    """Of invitations, where one was typed."""

    def count(self, request: Request, view: Any) -> None:
        if view.asked["code"] and not view.asked["token"]:
            hit(CODES, client_house(request._request))
            if isinstance(request.user, Person):
                hit(CODES_PERSON, request.user.pk)


def after_code(request: Request) -> None:
    give_back(CODES, client_house(request._request))
    if isinstance(request.user, Person):
        clear(CODES_PERSON, request.user.pk)


def before_sign_up(request: HttpRequest) -> None:
    hit(SIGN_UPS, client_house(request))


class SignUps(Throttle):
    def count(self, request: Request, view: Any) -> None:
        before_sign_up(request._request)


class SignUpsAsWell(SignUps):
    """Where an account may be made beside what was asked for."""

    def count(self, request: Request, view: Any) -> None:
        if "sign_up" in view.asked:
            super().count(request, view)


def _account(name: str) -> str:
    return as_typed(name).casefold()


def _here(request: HttpRequest, name: str) -> str:
    return f"{_account(name)} {client_house(request)}"
