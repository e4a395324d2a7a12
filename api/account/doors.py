"""What is counted where somebody has to know a secret. Only failures count, and a success clears the account's."""

from __future__ import annotations

from django.http import HttpRequest

from herd.services.limits import DAY_S, HOUR_S, MINUTE_S, Limit, clear, give_back, hit

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


def before_recovery(request: HttpRequest, name: str) -> None:
    hit(RECOVERY_ADDRESS, client_house(request))
    hit(RECOVERY, _account(name))


def after_recovery(request: HttpRequest, name: str) -> None:
    clear(RECOVERY, _account(name))
    give_back(RECOVERY_ADDRESS, client_house(request))
    after_sign_in(request, name)


def before_code(request: HttpRequest, person: str) -> None:
    hit(CODES, client_house(request))
    if person:
        hit(CODES_PERSON, person)


def after_code(request: HttpRequest, person: str) -> None:
    give_back(CODES, client_house(request))
    if person:
        clear(CODES_PERSON, person)


def before_sign_up(request: HttpRequest) -> None:
    hit(SIGN_UPS, client_house(request))


def _account(name: str) -> str:
    return " ".join(name.split()).casefold()


def _here(request: HttpRequest, name: str) -> str:
    return f"{_account(name)} {client_house(request)}"
