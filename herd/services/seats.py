"""Seats: who has signed in on which browser, so that each can be seen and ended from elsewhere."""

from __future__ import annotations

import secrets
from datetime import timedelta

from django.db.models import F
from django.utils import timezone

from herd.models import Audit, Membership, Person, Seat

from .audit import audit

MOST_WRONG_PINS = 5


def new_browser() -> str:
    return secrets.token_urlsafe(24)


def take_seat(browser: str, person: Person, agent: str) -> None:
    """By password, passkey or code: whatever was tried before is forgiven."""
    said = {"agent": agent[:200], "used_at": timezone.now(), "wrong_pins": 0}
    Seat.objects.update_or_create(browser=browser, person=person, defaults=said)


def use_seat(seat: Seat) -> None:
    Seat.objects.filter(pk=seat.pk).update(used_at=timezone.now(), wrong_pins=0)
    # Once a day: a phone takes each one's place again whenever it sends what she left on it.
    farms = Membership.objects.filter(person=seat.person_id).values("farm")
    row = {"person": seat.person_id, "what": "seat_taken", "detail": f"place {seat.pk}"}
    if not Audit.objects.filter(farm__in=farms, at__gt=timezone.now() - timedelta(days=1), **row).exists():
        audit(None, seat.person, "seat_taken", row["detail"])


def renew_seats(browser: str) -> None:
    """A browser that is used keeps all its seats."""
    Seat.objects.filter(browser=browser).update(used_at=timezone.now())


def is_locked(seat: Seat) -> bool:
    """Only her password opens it."""
    return seat.wrong_pins >= MOST_WRONG_PINS


def wrong_pin(seat: Seat) -> int:
    """How many tries are left."""
    Seat.objects.filter(pk=seat.pk).update(wrong_pins=F("wrong_pins") + 1)
    seat.refresh_from_db(fields=["wrong_pins"])
    audit(None, seat.person, "wrong_pin", f"place {seat.pk}")
    return max(0, MOST_WRONG_PINS - seat.wrong_pins)


def seats_on(browser: str) -> dict[str, Seat]:
    return {seat.person_id: seat for seat in Seat.objects.filter(browser=browser)} if browser else {}


def end_seats(person: Person, *, but: str = "") -> None:
    """All of a person's, or all but those on one browser."""
    Seat.objects.filter(person=person).exclude(browser=but or None).delete()
