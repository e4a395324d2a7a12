"""Somebody with a phone that is told, and what hers hears."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from herd.models import Seat
from herd.services.telling.choices import choose, subscribe
from herd.services.telling.kinds import KINDS
from tests.logs import record
from tests.people import ZONE, People
from tests.phones import Phone, new_id
from tests.support.push_phone import Browser, Maker

MIN_MS, HOUR_MS = 60_000, 3_600_000
LOUD = {"quiet_from_min": 0, "quiet_to_min": 0, "language": "en"}


class Told:
    """Somebody with a phone that is told."""

    def __init__(self, people: People, maker: Maker, name: str, **choice: Any) -> None:
        self.person, self.farm = getattr(people, name), people.farm
        self.phone = Phone(people.farm, self.person).sign_in()
        self.browser, self.maker, self.path = Browser(), maker, f"/{name}"
        self.seat = Seat.objects.get(person=self.person)
        subscribe(self.seat, **self.browser.says(maker.url + self.path))
        choose(people.farm, self.person, {"kinds": list(KINDS), **LOUD, **choice})

    def heard(self) -> list[dict[str, Any]]:
        return [self.browser.opens(one.body) for one in self.maker.got if one.path == self.path]


def doe(told: Told, name: str = "Ivy") -> str:
    made = new_id()
    record(told.phone, told.phone.record("doe", made, {"name": name}))
    return made


def at_hour(on: date, hour: int) -> int:
    return int(datetime(on.year, on.month, on.day, hour, tzinfo=ZoneInfo(ZONE)).timestamp() * 1000)
