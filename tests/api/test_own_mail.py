"""One's own mail address: set, changed and taken away by its owner, where the server sends mail."""

from __future__ import annotations

import re
from typing import Any
from urllib.parse import unquote

import pytest
from allauth.account.models import EmailAddress
from django.core import mail
from django.core.cache import cache
from django.test import Client

from herd.models import Audit
from tests.people import PASSWORD, People
from tests.phones import Phone

AUTH = "/api/auth/browser/v1"
OWN = f"{AUTH}/account/email"
FIRST, SECOND = "ada@example.org", "ada.farm@example.org"


@pytest.fixture
def sends(settings: Any) -> None:
    settings.MAIL = settings.ACCOUNT_EMAIL_NOTIFICATIONS = True
    settings.ACCOUNT_EMAIL_VERIFICATION = "optional"
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"


def says(answer: Any) -> tuple[int, str]:
    return answer.status_code, answer.json().get("code", "")


def proved(phone: Phone) -> Phone:
    assert phone.send(f"{AUTH}/auth/reauthenticate", {"password": PASSWORD}).status_code == 200
    return phone


def addresses(phone: Phone) -> list[tuple[str, bool]]:
    return sorted((row["email"], row["verified"]) for row in phone.client.get(OWN).json()["data"])


def own(phone: Phone) -> str:
    return str(phone.client.get("/api/session").json()["account"]["email"])


def opened(to: str) -> Any:
    """The link in the last mail, in whatever browser it opens."""
    assert mail.outbox[-1].to == [to]
    key = re.search(r"/#/mail/(\S+)", str(mail.outbox[-1].body))
    assert key, mail.outbox[-1].body
    return Client().post(f"{AUTH}/auth/email/verify", {"key": unquote(key[1])}, content_type="application/json")


def has(phone: Phone, email: str) -> None:
    assert proved(phone).send(OWN, {"email": email}).status_code == 200
    assert opened(email).status_code == 401, "it is hers, and nobody is signed in by it"


def written(phone: Phone) -> list[str]:
    rows = Audit.objects.filter(person=phone.person.pk, farm=phone.farm, what__startswith="email").order_by("id")
    return [f"{row.what} {row.detail}".strip() for row in rows]


def test_an_address_is_hers_once_its_link_is_opened(sends: None, ada: Phone) -> None:
    assert addresses(ada) == []
    assert says(ada.send(OWN, {"email": "no address"})) == (400, "invalid")
    assert proved(ada).send(OWN, {"email": FIRST}).status_code == 200
    assert (addresses(ada), own(ada), written(ada)) == ([(FIRST, False)], "", [])
    assert opened(FIRST).status_code == 401
    assert (addresses(ada), own(ada), written(ada)) == ([(FIRST, True)], FIRST, ["email_changed"])


def test_another_address_takes_its_place_and_the_old_one_hears_of_it(sends: None, ada: Phone) -> None:
    has(ada, FIRST)
    assert ada.send(OWN, {"email": SECOND}).status_code == 200
    assert (addresses(ada), own(ada)) == ([(SECOND, False), (FIRST, True)], FIRST)
    assert opened(SECOND).status_code == 401
    assert (addresses(ada), own(ada)) == ([(SECOND, True)], SECOND)
    assert mail.outbox[-1].to == [FIRST]
    assert written(ada) == ["email_changed", "email_changed"]


def test_a_slip_in_it_is_mended_by_another_one(sends: None, ada: Phone) -> None:
    proved(ada).send(OWN, {"email": "ad@example.org"})
    assert ada.send(OWN, {"email": FIRST}).status_code == 200
    assert addresses(ada) == [(FIRST, False)]
    assert says(ada.send(OWN, {"email": FIRST})) == (400, "duplicate_email")
    assert says(ada.ask("PUT", OWN, {"email": FIRST})) == (403, "mail_just_sent")


def test_it_is_taken_away(sends: None, ada: Phone) -> None:
    has(ada, FIRST)
    assert ada.ask("DELETE", OWN, {"email": FIRST}).status_code == 200
    assert (addresses(ada), own(ada)) == ([], "")
    assert written(ada) == ["email_changed", "email_removed"]


def test_nobody_learns_that_an_address_is_somebody_elses(sends: None, ada: Phone, ben: Phone) -> None:
    has(ada, FIRST)
    taken, free = (proved(ben).send(OWN, {"email": email}) for email in (FIRST, "ben@example.org"))
    assert taken.status_code == free.status_code == 200
    assert [{**row, "email": ""} for row in taken.json()["data"]] == [
        {**row, "email": ""} for row in free.json()["data"]
    ]
    # Not twice within minutes to one mailbox.
    cache.clear()
    ben.send(OWN, {"email": FIRST})
    assert says(opened(FIRST)) == (400, "email_taken"), "only who reads that mailbox is told, and it stays hers"
    assert (own(ada), own(ben)) == (FIRST, "")
    assert written(ben) == []


def test_who_has_proved_nothing_changes_no_address(sends: None, people: People) -> None:
    phone = Phone(people.farm, people.ada).sign_in()
    phone.person = people.cleo
    phone.sign_in()
    phone.ask("PUT", "/api/session", {"person": people.ada.pk})
    for method in ("POST", "DELETE"):
        assert phone.ask(method, OWN, {"email": FIRST}).status_code >= 400
    assert not EmailAddress.objects.exists()
    assert mail.outbox == []


def test_without_a_mail_server_there_is_no_address_to_set(ada: Phone) -> None:
    assert says(proved(ada).send(OWN, {"email": FIRST})) == (409, "no_mail")
    assert not EmailAddress.objects.exists()
    assert (addresses(ada), own(ada)) == ([], "")
